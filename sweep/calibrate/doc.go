// Package calibrate reads the records of flights, and says what they show and what
// they teach the model.
//
//	log or readings by hand → NewRecord → Record → Record.Fly → Trace
//	Record  → CorrectRecord    → Corrected    to the regulation's hot day, by rule and by model
//	Records → Compare          → Comparison   did a change make a difference
//	Records → Calibration.Find → Calibrated   the numbers that agree with them, and their doubts
//	doubts  → NextStudy.Run    → NextTable    which flight would teach most
//
// Below these stand two parts that know nothing of aircraft:
//
//	CSV     → ReadLog → Log → Segments
//	Problem → Fit     → Solution → Blind, Sharpened
//
// A log is judged row by row: nothing is dropped without a Fault that names its
// lines and the rule.
//
// In a fit, what is known beforehand comes in as priors: each is one more reading,
// of the parameter itself. The answer is the most probable set of parameters after
// the readings (maximum a posteriori), with the covariance that the model has when
// it is taken as linear there. Solution.Blind tells which combinations of
// parameters the readings cannot tell apart.
//
// Fit (Levenberg-Marquardt) finds a local least and takes no derivatives but by
// differences. Bounds keep the search where the model can be computed; they are no
// knowledge, and covariances do not count them.
package calibrate
