package main

import "hotclimb/scenarios"

func starterNow() []byte { s, _ := scenarios.Builtin("tug"); return s.Text }
