"""Mutation testing: does a test fail where the code is made wrong?

    python -m tests.mutants.run --seed 1 --count 100 --rooms physics,wiring

A *mutant* is the source with one thing changed (`changes.py`). All happens in a copy of the tree. What runs which line is
recorded once (`recorder.py`: `coverage`, by test) and kept in the copy; then for each mutant the tests of its line are run,
one of each file first, quickest first, until one fails (`runner.py`). `equivalent.toml` lists mutants that no test can tell.
"""
