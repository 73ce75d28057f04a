"""A straightforward pipeline of OpenCV calls on one photograph, to be timed beside
stage/measure: marks near the truth refined, camera calibrated, picture undistorted,
GrabCut from a box of the true mask, widths across the longer axis, parallax put right
for a level axis. It is helped where the stage is not.

python3 rival.py PHOTO.jpg TRUTH.json MASK.png  ->  one JSON object
"""
import json
import sys
import time

import cv2
import numpy as np

cv2.setNumThreads(2)
photo, truth_file, mask_file = sys.argv[1:4]
truth = json.load(open(truth_file))
mask = cv2.imread(mask_file, cv2.IMREAD_GRAYSCALE)
began, busy = time.perf_counter(), time.process_time()

img = cv2.imread(photo)  # turned upright by its EXIF
h, w = img.shape[:2]
grey = cv2.cvtColor(img, cv2.COLOR_BGR2GRAY)

# The camera, from the suggested marks.
marks = truth["mat"]["suggested_marks"]
px = np.array([m["px"] for m in marks], np.float32).round()
mm = np.array([m["printed_mm"] + [0] for m in marks], np.float32)
cv2.cornerSubPix(grey, px, (7, 7), (-1, -1), (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 30, 0.01))
f35 = truth["camera"]["exif_f35"] or 35
f = f35 * np.hypot(w, h) / np.hypot(36, 24)
k = np.array([[f, 0, (w - 1) / 2], [0, f, (h - 1) / 2], [0, 0, 1]])
flags = cv2.CALIB_USE_INTRINSIC_GUESS | cv2.CALIB_FIX_FOCAL_LENGTH | cv2.CALIB_FIX_PRINCIPAL_POINT | cv2.CALIB_ZERO_TANGENT_DIST | cv2.CALIB_FIX_K3
_, k, bend, turn, shift = cv2.calibrateCamera([mm], [px], (w, h), k, None, flags=flags)
rot, _ = cv2.Rodrigues(turn[0])
height = abs((-rot.T @ shift[0])[2, 0])

# The silhouette, at half size.
small = cv2.resize(cv2.undistort(img, k, bend), None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
ys, xs = np.nonzero(mask > 127)
box = [int(v) // 2 for v in (xs.min() - 30, ys.min() - 30, xs.max() - xs.min() + 60, ys.max() - ys.min() + 60)]
box = [max(1, box[0]), max(1, box[1]), box[2], box[3]]
out = np.zeros(small.shape[:2], np.uint8)
cv2.grabCut(small, out, box, np.zeros((1, 65)), np.zeros((1, 65)), 5, cv2.GC_INIT_WITH_RECT)
on = ((out == cv2.GC_FGD) | (out == cv2.GC_PR_FGD)).astype(np.uint8)
on = cv2.morphologyEx(on, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
lines, _ = cv2.findContours(on, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
line = max(lines, key=cv2.contourArea)[:, 0, :].astype(np.float64) * 2 + 0.5

# Down to the mat, along the longer axis.
ideal = (line - k[:2, 2]) / k[0, 0]
rays = np.c_[ideal, np.ones(len(ideal))] @ rot
centre = (-rot.T @ shift[0])[:, 0]
flat = (centre - rays * (centre[2] / rays[:, 2])[:, None])[:, :2]
mid = flat.mean(axis=0)
axis = np.linalg.svd(flat - mid, full_matrices=False)[2][0]
along = (flat - mid) @ axis
across = (flat - mid) @ np.array([-axis[1], axis[0]])
length = along.max() - along.min()
radius = []
for s in np.arange(along.min() + 1, along.max() - 1, 0.5):
    near = np.abs(along - s) < 0.5
    if near.any():
        wide = (across[near].max() - across[near].min()) / 2
        radius.append(wide / (1 + wide / height))
length *= 1 - np.median(radius) / height
print(json.dumps({
    "seconds": time.perf_counter() - began, "cpu_s": time.process_time() - busy,
    "length_mm": float(length), "version": cv2.__version__,
}))
