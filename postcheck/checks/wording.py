"""The sentences of a check: templates beside it, filled from its facts in one place.

`{name}` is a figure, a part or a word of the fact, its `{subject}` or its `{limit}`; what may follow the name after a colon
is told in `shown.py`. A piece in square brackets stands only where the fact has all that it names.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from postcheck.checks.fact import Fact
from postcheck.checks.shown import APART, shown, shown_apart, shown_parts
from postcheck.description.problems import Path
from postcheck.plain import harmless
from postcheck.report import Figure, Finding, NotJudged, Subject

# Compiled when they are first used, as of a sound build nothing is said.
_FIELD = r"\{(\w+)(?::([^{}]*))?\}"
OPTIONAL = r"\[([^\[\]{}]*\{[^\[\]]*)\]"


class Wording(NamedTuple):
    """What a finding of one case says, why it matters and, where it is plainly the opposite of the fault, what to do.

    Where there are several reasons, `why` has each by its name.
    """

    says: str
    why: str | Mapping[str, str]
    remedy: str = ""

    @property
    def templates(self) -> tuple[str, ...]:
        """All that it may say."""
        reasons = (self.why,) if isinstance(self.why, str) else tuple(self.why.values())
        return (self.says, *reasons, *([self.remedy] if self.remedy else []))


def finding_of(check: str, wordings: Mapping[str, Wording], fact: Fact) -> Finding:
    """A fact of a check with its sentences. KeyError for a case, a reason or a name that it has not."""
    wording = wordings[fact.case]
    why = wording.why if isinstance(wording.why, str) else wording.why[fact.reason]
    return Finding(
        check,
        fact.severity,
        fact.subject,
        filled(wording.says, fact),
        filled(why, fact),
        fact.path,
        remedy=filled(wording.remedy, fact) or None,
        figures=fact.figures,
        parts=fact.parts,
        limit=fact.limit,
        because_of=fact.because_of,
        lines=fact.lines,
        firm=fact.firm,
        case=f"{fact.case}:{fact.reason}",
        words=fact.words,
    )


def names_in(template: str) -> frozenset[str]:
    """The names that a template shows."""
    return frozenset(name for name, _ in re.findall(_FIELD, template))


def filled(template: str, fact: Fact) -> str:
    """A template with all that it names, in the spelling of `shown.py`."""
    data = _data(fact)
    text = re.sub(OPTIONAL, lambda piece: piece[1] if names_in(piece[1]) <= data.keys() else "", template)
    apart = [name for name, how in re.findall(_FIELD, text) if how == APART]
    figures = [figure for name in apart if isinstance(figure := data[name], Figure)]
    spelt = dict(zip(apart, shown_apart(figures), strict=True))

    def put(found: re.Match[str]) -> str:
        name, how = found[1], found[2] or ""
        value = spelt[name] if name in spelt else _spelt(data[name], how)
        begins = found.start() == 0 or text[: found.start()].endswith(". ")
        return "T" + value[1:] if begins and value.startswith("the ") else value

    return re.sub(_FIELD, put, text)


def open_question(
    subject: str,
    what: str,
    missing: str,
    *,
    vital: bool = False,
    figures: Mapping[str, Figure] | None = None,
    parts: Mapping[str, Subject | tuple[Subject, ...]] | None = None,
    words: Mapping[str, str] | None = None,
    plannable: bool = False,
    lines: Sequence[str] = (),
    under: Path = (),
) -> NotJudged:
    """What could not be judged, from templates that show these figures, parts and words; `lines` are typed as they stand."""
    fact = Fact("note", Subject("", subject), figures=figures or {}, parts=parts or {}, words=words or {})
    return NotJudged(
        subject, filled(what, fact), filled(missing, fact), vital, what, plannable, tuple(lines), under
    )


_Value = Figure | Subject | tuple[Subject, ...] | str


def _data(fact: Fact) -> dict[str, _Value]:
    data: dict[str, _Value] = {"subject": fact.subject, **fact.figures, **fact.parts, **fact.words}
    if fact.limit is not None:
        data["limit"] = Figure(fact.limit.value, fact.limit.unit)
    return data


def _spelt(value: _Value, how: str) -> str:
    if isinstance(value, Figure):
        return shown(value, how)
    if isinstance(value, str):
        return harmless(value)
    return shown_parts((value,) if isinstance(value, Subject) else value, how)
