"""Mutation testing: does a test fail where the code is made wrong?

    python -m tests.mutants.run --seed 1 --count 100 --rooms physics,wiring

A *mutant* is the source with one thing changed (`changes.py`). All happens in a copy of the tree. What runs which line is
recorded (`recorder.py`: `coverage`, by test) and kept in the copy; then for each mutant tests of its line are run until one
fails, in an order that finds one soon (`Lines.tests`), each mutant in a fork (`runner.py`); what imports alone run is tried in a
process of its own. `equivalent/` lists, room by room, mutants that no test can tell.
"""
