"""Questions of the bench that need no file, each a module: words to numbers, a small build in memory, one answer.

An answer is read off the survey of that build, so it is the one that `check` gives for the same numbers.
"""
