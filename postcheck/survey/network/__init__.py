"""Currents, voltages and loads of a build, in all its states and corners."""
