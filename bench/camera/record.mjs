// Writes what OpenCV makes of equal points to a file that the tests of
// craft/camera compare with, so that they need neither Node nor the library:
//
//     (cd bench/camera && npm ci --ignore-scripts && node record.mjs) > craft/camera/testdata/opencv.json
//
// Points go in as doubles. The build of the library for Node has no
// undistortPoints; its maps for undistort are what that inverts.

import { readFileSync } from 'node:fs';
import cv from '@techstark/opencv-js';

await new Promise((done) => (cv.Mat ? done() : (cv.onRuntimeInitialized = done)));
const version = JSON.parse(readFileSync(new URL('./node_modules/@techstark/opencv-js/package.json', import.meta.url))).version;
const boards = JSON.parse(readFileSync(new URL('../../craft/camera/testdata/chessboards.json', import.meta.url)));

const doubles = (rows, cols, type, values) => cv.matFromArray(rows, cols, type, values);
const list = (m) => Array.from(m.data64F);
const vector = (mats) => {
  const v = new cv.MatVector();
  for (const m of mats) v.push_back(m);
  return v;
};

// A congruential generator (Lehmer, modulus 2^31 - 1, multiplier 48271: S. Park,
// K. Miller & P. Stockmeyer, Comm. ACM 36(7) (1993)); every product is below 2^53.
let state = 20261126;
const random = () => (state = (state * 48271) % 2147483647) / 2147483647;
const within = (low, high) => low + (high - low) * random();

// What a lens of our model does: focal length, centre, k1, k2.
const cameraMatrix = (l) => doubles(3, 3, cv.CV_64F, [l.f, 0, l.cx, 0, l.f, l.cy, 0, 0, 1]);
const bending = (l) => doubles(1, 4, cv.CV_64F, [l.k1, l.k2, 0, 0]);

// 1. Places seen by cameras that look down on a mat.
function projected() {
  const out = [];
  for (let n = 0; n < 8; n++) {
    const lens = { f: within(1500, 4500), cx: within(1400, 1600), cy: within(1000, 1250), k1: within(-0.1, 0.1), k2: within(-0.05, 0.05) };
    const turn = [Math.PI - within(0, 0.3), within(-0.2, 0.2), within(-0.2, 0.2)];
    const shift = [within(-250, -150), within(100, 200), within(400, 700)];
    const places = [];
    for (let i = 0; i < 12; i++) places.push(within(0, 400), within(0, 280), within(-5, 60));
    const px = new cv.Mat();
    const jacobian = new cv.Mat();
    const rvec = doubles(3, 1, cv.CV_64F, turn);
    cv.projectPoints(doubles(12, 1, cv.CV_64FC3, places), rvec, doubles(3, 1, cv.CV_64F, shift), cameraMatrix(lens), bending(lens), px, jacobian, 0);
    const rotation = new cv.Mat();
    cv.Rodrigues(rvec, rotation);
    out.push({ lens, rotation: list(rotation), shift, places, px: list(px) });
  }
  return out;
}

// 2. Where undistort looks for each pixel of an ideal picture: maps in single
// precision, of 3000 pixels known to 1e-4.
function undistorted() {
  const out = [];
  for (const [k1, k2] of [[-0.08, 0.02], [0.06, -0.03], [-0.27, 0.07]]) {
    const lens = { f: 2300, cx: 1490, cy: 1130, k1, k2 };
    const size = new cv.Size(3000, 2250);
    const x = new cv.Mat();
    const y = new cv.Mat();
    const k = cameraMatrix(lens);
    cv.initUndistortRectifyMap(k, bending(lens), cv.Mat.eye(3, 3, cv.CV_64F), k, size, cv.CV_32FC1, x, y);
    const pixels = [];
    for (let v = 50; v < 2250; v += 430) {
      for (let u = 50; u < 3000; u += 580) pixels.push({ ideal: [u, v], seen: [x.floatAt(v, u), y.floatAt(v, u)] });
    }
    out.push({ lens, pixels });
  }
  return out;
}

// 3. Homographies of noisy marks by least squares without rejection. The library
// refines by Levenberg-Marquardt on pixels after the linear solution.
function homographies() {
  const out = [];
  for (let n = 0; n < 6; n++) {
    const true_ = [within(3, 5), within(-1, 1), within(100, 900), within(-1, 1), within(-5, -3), within(1200, 2000), within(-3e-4, 3e-4), within(-3e-4, 3e-4), 1];
    const from = [];
    const to = [];
    const count = n < 2 ? 4 : 25;
    for (let i = 0; i < count; i++) {
      const x = n < 2 ? 400 * (i & 1) : within(0, 400);
      const y = n < 2 ? 280 * (i >> 1) : within(0, 280);
      const w = true_[6] * x + true_[7] * y + 1;
      from.push(x, y);
      to.push((true_[0] * x + true_[1] * y + true_[2]) / w + within(-0.3, 0.3), (true_[3] * x + true_[4] * y + true_[5]) / w + within(-0.3, 0.3));
    }
    const h = cv.findHomography(doubles(count, 1, cv.CV_64FC2, from), doubles(count, 1, cv.CV_64FC2, to), 0);
    out.push({ mm: from, px: to, h: list(h) });
  }
  return out;
}

// 4. One calibration over all chessboards, the model being ours: one focal
// length, no tangential distortion, no k3.
function calibrated() {
  const { columns, rows, square_mm: square } = boards;
  const board = [];
  for (let j = 0; j < rows; j++) for (let i = 0; i < columns; i++) board.push(square * i, square * j, 0);
  const object = vector(boards.views_px.map(() => cv.matFromArray(rows * columns, 1, cv.CV_32FC3, board)));
  const image = vector(boards.views_px.map((v) => cv.matFromArray(rows * columns, 1, cv.CV_32FC2, v.flat())));
  const k = doubles(3, 3, cv.CV_64F, [600, 0, 319.5, 0, 600, 239.5, 0, 0, 1]);
  const d = doubles(1, 5, cv.CV_64F, [0, 0, 0, 0, 0]);
  const rvecs = new cv.MatVector();
  const tvecs = new cv.MatVector();
  const [inside, outside, each] = [new cv.Mat(), new cv.Mat(), new cv.Mat()];
  // As calib3d.hpp has them: in this build cv.CALIB_FIX_K3 is the fisheye module's.
  const [fixAspectRatio, zeroTangentDist, fixK3] = [2, 8, 128];
  const flags = fixAspectRatio | zeroTangentDist | fixK3;
  const rms = cv.calibrateCameraExtended(object, image, new cv.Size(boards.width_px, boards.height_px), k, d, rvecs, tvecs, inside, outside, each, flags);
  const heights = [];
  for (let i = 0; i < rvecs.size(); i++) {
    const r = new cv.Mat();
    cv.Rodrigues(rvecs.get(i), r);
    const [R, t] = [list(r), list(tvecs.get(i))];
    heights.push(Math.abs(R[2] * t[0] + R[5] * t[1] + R[8] * t[2]));
  }
  const [kk, dd, u] = [list(k), list(d), list(inside)];
  return { f: kk[0], cx: kk[2], cy: kk[5], k1: dd[0], k2: dd[1], rms_px: rms, doubt: { f: u[1], cx: u[2], cy: u[3], k1: u[4], k2: u[5] }, heights_mm: heights, views_rms_px: list(each) };
}

const out = {
  source: `@techstark/opencv-js ${version}, OpenCV 4.10.0: projectPoints, initUndistortRectifyMap, findHomography, calibrateCameraExtended; written by bench/camera/record.mjs`,
  projected: projected(),
  undistorted: undistorted(),
  homographies: homographies(),
  calibrated: calibrated(),
};
console.log(JSON.stringify(out));
process.exit(0);
