// Package camera is the pinhole camera with radial distortion, and its fit to
// marks on a flat mat.
//
// In come marks (a pixel and its place in the mat's print in millimetres, Z = 0
// on the mat's top, Z up), the ticks of a ruler that lies on it, and what is known
// beforehand (image size, 35 mm equivalent focal length). Out comes a [Camera] with
// the covariance of its eleven parameters, priors included, and how much a
// printed millimetre is in truth. Pixels have their centres at whole numbers and
// the origin at the top left of the upright image. Lengths are plain float64
// millimetres, angles radians.
//
// The model is that of OpenCV's calib3d documentation, "Detailed Description":
// p = R (X - C), x' = p.x/p.z, y' = p.y/p.z, r² = x'² + y'²,
// u = f x'(1 + k1 r² + k2 r⁴) + cx, v likewise.
//
// The fit starts from a homography (normalised direct linear transform:
// Hartley, In Defence of the Eight-Point Algorithm, IEEE PAMI 19 (1997) 580-593;
// Hartley & Zisserman, Multiple View Geometry, 2nd ed., algorithm 4.2), takes a
// pose from it (Zhang, A Flexible New Technique for Camera Calibration, IEEE
// PAMI 22 (2000) 1330-1334, section 3.1) and ends with Levenberg-Marquardt over
// all parameters under a Huber loss and priors. A single view of a flat mat
// says little of the focal length when it is looked at squarely, so the focal
// length is never free without a prior. Several photographs may share one lens
// (Zhang, section 3.2): a tilted one then tells the focal length for a square one.
//
// A ruler is right to 0.02 %; a mat's print to 0.2 % most often and to 3 % at
// times, each direction for itself. Pixels are square, so a print longer one way
// than the other is seen without a ruler. What a ruler cannot tell is its own
// height: a plane 1 mm up looks as the mat's does, H/(H - 1) times as large, in
// every view, and that is 0.2 % at 500 mm.
package camera
