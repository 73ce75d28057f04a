// Builds an Embree scene over a mesh and casts one ray a triangle, each on the
// given number of threads; prints the seconds of both and what was hit.
//
//	cc -O3 -march=native -o rays rays.c -lembree3 -lpthread -lm
//	./rays DUMP THREADS
//
// A dump is, little endian: the numbers of vertices and triangles (int64 each),
// the vertices (3 float32), the triangles (3 int32), and a ray for each triangle
// (origin and direction, 6 float32).
#include <embree3/rtcore.h>
#include <math.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

// A ray starts on its own triangle; in float32 it meets that again a rounding
// further on, so the first thousandth of a millimetre doesn't count.
static const float near_mm = 1e-3f;

static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void *take(FILE *f, size_t size, size_t n) {
	void *p = malloc(size * n + 16); // Embree reads 16 bytes at the last vertex
	if (p == NULL || fread(p, size, n, f) != n) {
		fprintf(stderr, "rays: short dump\n");
		exit(1);
	}
	return p;
}

typedef struct {
	RTCScene scene;
	const float *rays;
	float *hits;
	int64_t lo, hi;
} share;

static void *cast(void *arg) {
	share *s = arg;
	for (int64_t i = s->lo; i < s->hi; i++) {
		const float *r = s->rays + 6 * i;
		struct RTCIntersectContext context;
		rtcInitIntersectContext(&context);
		struct RTCRayHit q = {0};
		q.ray.org_x = r[0], q.ray.org_y = r[1], q.ray.org_z = r[2];
		q.ray.dir_x = r[3], q.ray.dir_y = r[4], q.ray.dir_z = r[5];
		q.ray.tnear = near_mm, q.ray.tfar = INFINITY, q.ray.mask = (unsigned)-1;
		q.hit.geomID = RTC_INVALID_GEOMETRY_ID;
		rtcIntersect1(s->scene, &context, &q);
		s->hits[i] = q.hit.geomID == RTC_INVALID_GEOMETRY_ID ? INFINITY : q.ray.tfar;
	}
	return NULL;
}

static int compare(const void *a, const void *b) {
	float x = *(const float *)a, y = *(const float *)b;
	return (x > y) - (x < y);
}

int main(int argc, char **argv) {
	FILE *f = argc == 3 ? fopen(argv[1], "rb") : NULL;
	int threads = argc == 3 ? atoi(argv[2]) : 0;
	if (f == NULL || threads < 1 || threads > 64) {
		fprintf(stderr, "rays: DUMP THREADS\n");
		return 2;
	}
	int64_t *counts = take(f, sizeof *counts, 2);
	int64_t vertices = counts[0], n = counts[1];
	float *points = take(f, 3 * sizeof(float), (size_t)vertices);
	uint32_t *triangles = take(f, 3 * sizeof(uint32_t), (size_t)n);
	float *rays = take(f, 6 * sizeof(float), (size_t)n);
	fclose(f);

	char config[32];
	snprintf(config, sizeof config, "threads=%d", threads);
	RTCDevice device = rtcNewDevice(config);
	double start = now();
	RTCScene scene = rtcNewScene(device);
	RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
	rtcSetSharedGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, points, 0, 12, (size_t)vertices);
	rtcSetSharedGeometryBuffer(g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, triangles, 0, 12, (size_t)n);
	rtcCommitGeometry(g);
	rtcAttachGeometry(scene, g);
	rtcCommitScene(scene);
	double built = now();

	float *hits = malloc(sizeof(float) * (size_t)n);
	pthread_t worker[64];
	share part[64];
	for (int i = 0; i < threads; i++) {
		part[i] = (share){scene, rays, hits, n * i / threads, n * (i + 1) / threads};
		pthread_create(&worker[i], NULL, cast, &part[i]);
	}
	for (int i = 0; i < threads; i++) pthread_join(worker[i], NULL);
	double done = now();

	qsort(hits, (size_t)n, sizeof *hits, compare);
	int64_t measured = n;
	while (measured > 0 && isinf(hits[measured - 1])) measured--;
	if (measured == 0) {
		fprintf(stderr, "rays: nothing hit\n");
		return 1;
	}
	printf("%.6f %.6f %.9g %.9g %.9g %lld\n", built - start, done - built, hits[0], hits[(measured * 50 + 99) / 100 - 1],
	       hits[(measured * 99 + 99) / 100 - 1], (long long)measured);
	return 0;
}
