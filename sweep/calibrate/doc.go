// Package calibrate reads records of flights, and finds the numbers of a model
// that make it agree with readings, and how well the readings know them.
//
//	CSV → ReadLog → Log → Segments, FirstPeak → CorrectByRule
//	Problem → Fit (Levenberg-Marquardt) → Solution → Blind, Sharpened
//	Records → Calibration.Find → Calibrated → Posterior, Correlations
//
// A log is judged row by row: nothing is dropped without a Fault that names its
// lines and the rule.
//
// In a fit, what is known beforehand comes in as priors: each is one more reading, of the
// parameter itself. The answer is the most probable set of parameters after the
// readings (maximum a posteriori), with the covariance that the model has when
// it is taken as linear there. Solution.Blind tells which combinations of
// parameters the readings cannot tell apart.
//
// Fit finds a local least and takes no derivatives but by differences. Bounds
// keep the search where the model can be computed; they are no knowledge, and
// covariances do not count them. It knows nothing of aircraft; Calibration joins
// it to the records of flights.
package calibrate
