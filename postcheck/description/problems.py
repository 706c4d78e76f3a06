"""What can be wrong with a build file, as data; line and column are joined at the edge."""

from collections.abc import Iterable
from typing import Literal, NamedTuple

from postcheck.plain import harmless

Path = tuple[str | int, ...]

# Nobody reads more at once, and looking for the nearest name takes its time.
MOST_PROBLEMS = 200
MOST_GUESSES = 50

FILE_CHECKS: dict[str, str] = {
    "file.unreadable": "The file is missing, is a folder, or may not be read.",
    "file.not-text": "The file is not text in UTF-8.",
    "file.not-toml": "The file breaks a rule of TOML.",
    "file.empty": "The file says nothing.",
    "file.too-big": "The file is far bigger than any build description.",
    "file.too-deep": "Lists or tables are nested deeper than any build needs.",
    "file.use": "A file named under `use` cannot be used.",
    "file.unknown-key": "A key is not part of a build description.",
    "file.missing": "A key that is needed is not there.",
    "file.wrong-type": "A value is of the wrong kind: a list where text is needed, and the like.",
    "file.choice": "A value is not one of those that can be chosen here.",
    "file.out-of-range": "A number, or the length of a list, is outside what makes sense here.",
    "file.not-a-quantity": "A text is not a number with a unit.",
    "file.no-unit": "A number has no unit.",
    "file.unknown-unit": "A unit is not known.",
    "file.wrong-dimension": "A quantity is of the wrong kind: a voltage where a length is needed.",
    "file.decimal-comma": "A number is written with a comma.",
    "file.not-finite": "A number is infinite or not a number.",
    "file.negative": "A quantity is negative where that makes no sense.",
    "file.absurd": "A quantity is so large or so small that it is implausible: a typing mistake?",
    "file.wrong-order": "The least, typical and most of something do not rise.",
    "file.too-long": "A text is far longer than what belongs here.",
    "file.bad-form": "A one-line form cannot be read.",
    "file.unknown-name": "A name refers to something that is not described.",
    "file.duplicate-name": "Two things of a kind bear the same name.",
    "file.unreached": "Something is joined to nothing that can feed it.",
    "file.more": "There are more problems than are listed.",
    "file.invalid": "A value breaks another rule of the build description.",
}


class QuantityError(ValueError):
    """A value that cannot be read: the name of the check, what is wrong, and how to write it instead.

    `bare`: the number in it that lacks its unit, as it was typed.
    """

    def __init__(self, check: str, says: str, hint: str | None = None, bare: str = "") -> None:
        super().__init__(says if hint is None else f"{says}; {hint}")
        self.check = check
        self.says = says
        self.hint = hint
        self.bare = bare


def written_as(text: str) -> str:
    """The hint that shows how something is written."""
    return f'write "{harmless(text, 60)}"'


class Problem(NamedTuple):
    """One thing wrong with a file: the check, the path in the document, what is wrong, how to put it right.

    `line` and `column` count from 1 and are known once the problem has been located in the text. `about`: the part by name,
    where it has one; a place in the file is named by its path else. `lines`: what can be added to the file instead, as it is typed.
    """

    check: str
    path: Path
    says: str
    hint: str | None = None
    on: Literal["key", "value"] = "value"
    line: int | None = None
    column: int | None = None
    about: str = ""
    lines: tuple[str, ...] = ()

    def __str__(self) -> str:
        return self.says if self.hint is None else f"{self.says}; {self.hint}"


class BuildError(Exception):
    """A file that cannot be read as a build. `.problems` holds everything that is wrong, `.file` the name.

    `.used` are the paths that its `use` led to, there or not: a change of one of them may cure it.
    """

    def __init__(self, file: str, problems: Iterable[Problem]) -> None:
        self.file = file
        self.problems: tuple[Problem, ...] = tuple(problems)
        self.used: tuple[str, ...] = ()
        super().__init__(file, self.problems)

    def __str__(self) -> str:
        name = harmless(self.file)
        return "\n".join(
            "\n    ".join(
                [
                    f"{name}: {problem}"
                    if problem.line is None
                    else f"{name}:{problem.line}:{problem.column or 1}: {problem}",
                    *map(harmless, problem.lines),
                ]
            )
            for problem in self.problems
        )
