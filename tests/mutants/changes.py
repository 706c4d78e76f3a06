"""What one mutant changes: found in the syntax tree, made in the text."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

OPERATORS: dict[type[ast.AST], tuple[str, tuple[str, ...]]] = {
    ast.Add: ("+", ("-",)),
    ast.Sub: ("-", ("+",)),
    ast.Mult: ("*", ("/",)),
    ast.Div: ("/", ("*",)),
    ast.Pow: ("**", ("*",)),
    ast.FloorDiv: ("//", ("/",)),
    ast.Mod: ("%", ("*",)),
    ast.Lt: ("<", ("<=", ">=")),
    ast.LtE: ("<=", ("<", ">")),
    ast.Gt: (">", (">=", "<=")),
    ast.GtE: (">=", (">", "<")),
    ast.Eq: ("==", ("!=",)),
    ast.NotEq: ("!=", ("==",)),
    ast.Is: ("is", ("is not",)),
    ast.IsNot: ("is not", ("is",)),
    ast.In: ("in", ("not in",)),
    ast.NotIn: ("not in", ("in",)),
}
OPPOSITE = {"min": "max", "max": "min", "any": "all", "all": "any"}
SKIPPED = (ast.JoinedStr, ast.Raise, ast.Assert)  # words, and what is said of a refusal
UNTOLD = {
    "strict",
    "examples",
}  # keywords: of `zip`, where nothing changes if all is right; of a field, words of the schema


@dataclass(frozen=True)
class Change:
    """Characters `start` to `end` of a file become `new`.

    `lines` are those of its statement (of a function's defaults, its body); `inside` tells whether it lies in the body of a
    function. `names` are what a statement outside of functions gives values to.
    """

    path: str
    start: int
    end: int
    old: str
    new: str
    line: int
    lines: tuple[int, int]
    inside: bool
    names: tuple[str, ...]
    whole_line: str

    def made_in(self, text: str) -> str:
        return text[: self.start] + self.new + text[self.end :]

    def described(self) -> str:
        """The change as two lines, as `equivalent/` has them too."""
        return f"{self.path}:{self.line}: {self.old} -> {self.new}\n    {self.whole_line.strip()}"


class _File:
    def __init__(self, root: Path, path: Path) -> None:
        self.path = str(path.relative_to(root))
        self.text = path.read_text()
        self.rows = self.text.splitlines(keepends=True)
        self.starts = [0]
        for row in self.rows:
            self.starts.append(self.starts[-1] + len(row))

    def at(self, row: int, column: int) -> int:
        """Where a position of `ast` (in bytes of UTF-8) is in the text."""
        return self.starts[row - 1] + len(self.rows[row - 1].encode()[:column].decode())

    def span(self, node: ast.expr) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return self.at(node.lineno, node.col_offset), self.at(node.end_lineno, node.end_col_offset)

    def changes(self) -> Iterator[Change]:
        yield from self._of_body(ast.parse(self.text), None, inside=False)

    def _of_body(self, node: ast.AST, statement: ast.stmt | None, *, inside: bool) -> Iterator[Change]:
        for field, value in ast.iter_fields(node):
            within = inside or (isinstance(node, ast.FunctionDef) and field == "body")
            if field in {"annotation", "returns", "type_comment"} or _is_types(node):
                continue
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and field == "decorator_list":
                continue
            for child in value if isinstance(value, list) else [value]:
                if not isinstance(child, ast.AST) or isinstance(child, SKIPPED):
                    continue
                if isinstance(child, ast.keyword) and child.arg in UNTOLD:
                    continue
                holder = child if isinstance(child, ast.stmt) else statement
                if holder is not None:
                    for start, end, new in self._of(child):
                        yield self._change(start, end, new, holder, inside=within)
                yield from self._of_body(child, holder, inside=within)

    def _change(self, start: int, end: int, new: str, statement: ast.stmt, *, inside: bool) -> Change:
        line = self.text.count("\n", 0, start) + 1
        body = getattr(statement, "body", None)
        whole = isinstance(statement, ast.FunctionDef) or not (isinstance(body, list) and body)
        last = statement.end_lineno if whole or body is None else body[0].lineno - 1
        lines = (statement.lineno, max(last or line, statement.lineno))
        old = self.text[start:end]
        names = () if inside else tuple(given(statement))
        return Change(self.path, start, end, old, new, line, lines, inside, names, self.rows[line - 1])

    def _of(self, node: ast.AST) -> Iterator[tuple[int, int, str]]:
        match node:
            case ast.BinOp():
                yield from self._operator(node.left, node.op, node.right)
                if isinstance(node.op, ast.Add | ast.Sub) and _is_number(node.right, 1):
                    yield self.span(node.left)[1], self.span(node)[1], ""
            case ast.Compare(ops=[operator], comparators=[right]):
                yield from self._operator(node.left, operator, right)
            case ast.BoolOp():
                one, other = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
                # All of one kind: `a and b and c` with a single `and` changed would be a mixture.
                yield from self._between(node.values[0], one, node.values[1], other)
            case ast.UnaryOp(op=ast.Not() | ast.USub()):
                start = self.span(node)[0]
                yield start, self.span(node.operand)[0], ""
            case ast.Constant(value=bool()):
                yield *self.span(node), str(not node.value)
            case ast.Constant(value=int() | float() as number):
                yield *self.span(node), _another(number)
            case ast.Call(func=ast.Name(id=name)) if name in OPPOSITE:
                yield *self.span(node.func), OPPOSITE[name]
            case ast.Return(value=ast.expr() as value) if not isinstance(value, ast.Constant):
                yield *self.span(value), "None"

    def _operator(self, left: ast.expr, operator: ast.AST, right: ast.expr) -> Iterator[tuple[int, int, str]]:
        if type(operator) in OPERATORS and not (_is_text(left) or _is_text(right)):
            old, news = OPERATORS[type(operator)]
            for new in news:
                yield from self._between(left, old, right, new)

    def _between(self, left: ast.expr, old: str, right: ast.expr, new: str) -> Iterator[tuple[int, int, str]]:
        start, end = self.span(left)[1], self.span(right)[0]
        between = self.text[start:end]
        if "#" not in between and old in between:
            at = start + between.index(old)
            yield at, at + len(old), new


def given(statement: ast.stmt) -> Iterator[str]:
    """The names that a statement gives values to."""
    targets = getattr(statement, "targets", [getattr(statement, "target", statement)])
    for part in (part for target in targets for part in ast.walk(target)):
        if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store):
            yield part.id


def _is_number(node: ast.expr, value: float) -> bool:
    return isinstance(node, ast.Constant) and type(node.value) in {int, float} and node.value == value


def _is_text(node: ast.expr) -> bool:
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _is_types(node: ast.AST) -> bool:
    """What only a type checker reads."""
    guarded = isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    return guarded or (
        isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal"
    )


def _another(number: float) -> str:
    if isinstance(number, int):
        return (
            "1"
            if number == 0
            else "2"
            if number == 1
            else str(number - 1 if number <= 10 else number * 3 // 2)
        )
    return "1.0" if number == 0.0 else repr(number * 1.5)


def all_of(root: Path, path: Path) -> list[Change]:
    """Every change of one file; a few leave no program, or the same (`tells`)."""
    return list(_File(root, path).changes())


def tells(root: Path, change: Change) -> bool:
    """Whether the text with the change can be parsed and says something else."""
    text = (root / change.path).read_text()
    try:
        return ast.dump(ast.parse(change.made_in(text))) != ast.dump(ast.parse(text))
    except SyntaxError:
        return False
