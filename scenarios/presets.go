package scenarios

// fillKinds fills what kinds and presets imply and the file does not give.
func (sc *Scenario) fillKinds() {}
