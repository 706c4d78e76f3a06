"""The laws behind every figure: pure functions on plain floats, SI, the standard library only."""
