"""Builds that are sound by construction, and faults that builders make in them.

A generator makes each build by rules of the bench, with margins: nothing of postcheck has a hand in it, and no build is thrown
away because a check finds something. A fault is one small change of such a build, with the check that has to find it.
`python -m tests.construction.measure N [FIRST]` counts.
"""
