"""From lamps, places and a post to a wiring that passes every check."""

from postcheck.planner.planning import Plan, plan

__all__ = ["Plan", "plan"]
