"""A remedy is offered only if applying it to the build makes its finding go and brings no new one.

The same trial shows what else goes: that is no fault of its own but a consequence, and is told under its cause. What only
the same cure serves, and would stay with another, stands beside it with that as its remedy too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from types import MappingProxyType
from typing import NamedTuple

from postcheck.checks.causes import may_follow, unlinked
from postcheck.checks.fact import Within
from postcheck.checks.judge import judge
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.description.problems import Path
from postcheck.remedies.proposal import MORE, Change, Proposal, Proposer, changed
from postcheck.remedies.recorded import after_records
from postcheck.report import SEVERITIES, Edit, Finding, NotJudged, rank
from postcheck.survey import Survey

__all__ = ["left_of", "with_remedies"]

# A trial is a whole survey of the changed build. Above this many lamps that takes too long for a hook.
MOST_LAMPS = 400
# Trials for one build: at most, at least, and the lamps surveyed in all of them together.
MOST_TRIALS, LEAST_TRIALS, LAMPS_SURVEYED = 32, 6, 1200
# Work of all trials together (`Electrics.work`), some 3 us each: a build with many states, or hard to solve, gets fewer trials.
# What the tests on the bench would show before a place is closed takes as much as PLACE_WORK.
TRIAL_WORK, PLACE_WORK = 1_000_000, 1_000
# What goes only when more causes than this are cured has no cause that could be named.
MOST_TOGETHER = 3
# Of the proposals for one finding: so many are looked at, and so many of these tried.
MOST_PROPOSALS, MOST_TRIES = 40, 4
# A finding that stays is worse once it uses so many times as much of its limit: judgement, for a cure moves other figures by some per cent.
WORSE = 1.25


def with_remedies(
    survey: Survey,
    findings: tuple[Finding, ...],
    unjudged: Iterable[NotJudged],
    stages: Sequence[Mapping[str, Proposer]],
    checks: Sequence[Check] = CHECKS,
    compared: Mapping[str, Within] = MappingProxyType({}),
) -> tuple[Finding, ...]:
    """The findings, each with the first of its proposals that is proven, and consequences marked as such.

    Stage by stage, causes before what they may cause: a finding that goes with the remedy of another one needs none.
    `compared`: what each check compared, as the judgement of the build has it; no remedy may make that plainly worse.
    """
    if len(survey.build.lamp) > MOST_LAMPS:
        return findings
    trials = _Trials(survey, findings, unjudged, checks, compared)
    for stage in stages:
        trials.work(stage)
    trials.lead_by_the_heaviest()
    trials.share()
    offered = {
        name: tuple(change.path for change in proposal.changes) for name, proposal in trials.offered.items()
    }
    return tuple(after_records(survey, trials.findings.values(), offered))


class _Trial(NamedTuple):
    """What is left on the build with some changes: findings by name, and vital questions."""

    left: dict[str, Finding]
    vital: set[tuple[str, str]]
    compared: Mapping[str, Within] = MappingProxyType({})

    def stays(self, finding: Finding) -> bool:
        """Whether a finding is left; not where no more than a note is left of it."""
        left = self.left.get(finding.id)
        return left is not None and left_of(finding, left)


class _Mended(NamedTuple):
    """A finding with a proven remedy, and the names of the findings that are left after it."""

    finding: str
    proposal: Proposal
    left: frozenset[str]


def left_of(finding: Finding, left: Finding) -> bool:
    """Whether `left` is still that finding: by name, and more than a note, or a note as it was all the time."""
    return left.id == finding.id and (left.severity != "note" or finding.severity == "note")


def _by_record(name: str) -> bool:
    """Whether a finding, by its name, says that something is not as it was measured: what is changed is measured again."""
    return name.startswith(("proof.current:", "closing."))


def _asked(unjudged: Iterable[NotJudged]) -> set[tuple[str, str]]:
    """What is open, by the kind of question: a number in it may be another after a trial."""
    return {(question.subject, question.case or question.what) for question in unjudged}


class _Trials:
    """The findings of a build while remedies are tried on copies of it.

    `findings`: by name, with remedies and causes as far as known. `before`, `open`: how heavy each was, and what was open, at
    the start. `budget`: how many trials may still be made. `mended`: findings with a proven remedy that may have consequences;
    `offered`: all remedies that are in force. `shared`: findings that go with the remedy of another one, and whose; they do
    not come of it. `together`: what is left after all remedies of a stage at once.
    """

    def __init__(
        self,
        survey: Survey,
        findings: Iterable[Finding],
        unjudged: Iterable[NotJudged],
        checks: Sequence[Check],
        compared: Mapping[str, Within],
    ) -> None:
        self.compared = compared
        self.survey = survey
        self.checks = checks
        self.findings = {finding.id: finding for finding in unlinked(findings)}
        self.before = {name: rank(finding) for name, finding in self.findings.items()}
        self.open = _asked(unjudged)
        flashers = sum(circuit.behaviour != "steady" for circuit in survey.build.circuit.values())
        # each in a state of its own for every flasher
        lamps = max(len(survey.build.lamp), 1) * (1 + flashers)
        most = TRIAL_WORK // max(survey.electrics.work + PLACE_WORK * len(survey.closing), 1)
        self.budget = min(MOST_TRIALS, most, max(LEAST_TRIALS, LAMPS_SURVEYED // lamps))
        self.mended: dict[str, _Mended] = {}
        self.offered: dict[str, Proposal] = {}
        self.shared: dict[str, str] = {}
        self.together: frozenset[str] | None = None

    def work(self, stage: Mapping[str, Proposer]) -> None:
        """Prove what can be proven in a stage; fold what goes with it."""
        done = 0
        for check, proposer in stage.items():
            for name in [
                name
                for name, finding in self.findings.items()
                if finding.check == check and name not in self.mended
            ]:
                finding = self.findings[name]  # it may have become a consequence meanwhile
                if finding.because_of is None and name not in self.shared:
                    done += self._mend(finding, proposer)
        if done > 1:
            self._fold_together()
        for name in self._unfold():
            finding = self.findings[name]
            if finding.check in stage:
                self._mend(finding, stage[finding.check])

    def _mend(self, finding: Finding, proposer: Proposer) -> bool:
        """Whether one of the proposals is proven. One that leaves a new note, or eases only, is second choice."""
        if self.budget <= 0:
            return False  # what proposes may survey the build as well
        chosen: _Mended | None = None
        proposals: Iterable[Proposal] = islice(proposer(self.survey, finding), MOST_PROPOSALS)
        if self.offered:
            # A value that another remedy changes too is best changed in the same way.
            proposals = sorted(proposals, key=lambda proposal: not self._agrees(proposal))
        for proposal in islice(proposals, MOST_TRIES):
            trial = self._trial((*self._kept_beside(proposal), *proposal.changes), finding)
            if trial is None:
                break
            if trial.stays(finding) or not self._harmless(trial):
                continue
            if self._disagrees(proposal) & trial.left.keys():
                continue  # two values for one thing, and this one does not serve both
            if proposal.replaces and not self._serves_all(trial, finding):
                continue
            mended = _Mended(finding.id, proposal, self._left_over(trial))
            follows = {name for name, other in self.findings.items() if other.because_of == finding.id}
            if (
                trial.left.keys() <= self.before.keys()
                and not self._halfway(trial)
                and not {name for name in follows & trial.left.keys() if not _by_record(name)}
            ):
                chosen = mended
                break
            if not proposal.spotless:
                chosen = chosen or mended
        if chosen is not None:
            chosen = chosen._replace(proposal=self._with_another(finding, chosen.proposal))
            served = self._disagrees(chosen.proposal)
            # One that serves an earlier finding as well takes the place of that one's own.
            own = [name for name in self.offered if name in served] or [finding.id]
            for name in (*own, finding.id) if chosen.proposal.alone else own[:1]:
                self._keep(self.findings[name], chosen._replace(finding=name))
        return chosen is not None

    def _with_another(self, finding: Finding, proposal: Proposal) -> Proposal:
        """The proposal, with the words of another way that holds as well."""
        for other in proposal.instead:
            trial = self._trial(other.changes, finding)
            if trial is None:
                break
            if not trial.stays(finding) and self._harmless(trial) and trial.left.keys() <= self.before.keys():
                figures = {**proposal.figures, **other.figures}
                return proposal._replace(says=f"{proposal.says} {other.says}", figures=figures)
        return proposal

    def _serves_all(self, trial: _Trial, finding: Finding) -> bool:
        """Whether a part in the place of another leaves nothing of its kind to find in it, and all other remedies hold with it."""
        of_its_kind = finding.check.partition(".")[0]
        return not any(
            name in self.mended
            or (left.subject, left.check.partition(".")[0]) == (finding.subject, of_its_kind)
            for name, left in trial.left.items()
            if left.severity != "note"
        )

    def _settled(self) -> Iterator[tuple[str, Change]]:
        """What the remedies so far change."""
        for name, mended in self.mended.items():
            if self.findings[name].because_of is None:
                yield from ((name, change) for change in mended.proposal.changes if change.path[-1] != MORE)

    def _kept_beside(self, proposal: Proposal) -> Iterator[Change]:
        """What the other remedies change, where a part that feeds or bears what they mend is replaced."""
        if proposal.replaces:
            wants = {change.path for change in proposal.changes}
            yield from (
                change
                for name, change in self._settled()
                if change.path not in wants and self.findings[name].severity != "note"
            )

    def _agrees(self, proposal: Proposal) -> bool:
        """Whether a proposal changes something that another remedy changes, and to the same value."""
        if proposal.replaces:
            return any(other.changes == proposal.changes for other in self.offered.values())
        wants = {change.path: change.value for change in proposal.changes}
        same = [wants[change.path] == change.value for _, change in self._settled() if change.path in wants]
        return bool(same) and all(same)

    def _disagrees(self, proposal: Proposal) -> set[str]:
        """The findings whose own remedies give something that a proposal changes another value."""
        wants = {change.path: change.value for change in proposal.changes}
        replaced = {
            name
            for name, other in self.offered.items()
            if proposal.replaces and other.replaces == proposal.replaces and other.changes != proposal.changes
        }
        return replaced | {
            name for name, change in self._settled() if wants.get(change.path, change.value) != change.value
        }

    def _trial(self, changes: Iterable[Change], of: Finding | None = None) -> _Trial | None:
        """The build with some changes, judged; None where no more trials are to be had.

        Where the finding `of` that they are to cure stays, nothing else is looked at.
        """
        if self.budget <= 0:
            return None
        self.budget -= 1
        changes = tuple(changes)
        survey = self.survey.again(
            changed(self.survey.build, changes), changed=(change.path for change in changes)
        )
        stays = None if of is None else self._still_found(survey, of)
        if of is not None and stays is not None:
            return _Trial({of.id: stays}, set())
        after = judge(survey, self.checks)
        # a waiver of what the trial cures is no fault, nor is it that what was measured before is no longer so
        left = {
            finding.id: finding
            for finding in after.findings
            if finding.check != "accept.matches-nothing"
            and (finding.id in self.before or not _by_record(finding.id))
        }
        vital = _asked(question for question in after.not_judged if question.vital)
        return _Trial(left, vital, after.compared)

    def _still_found(self, survey: Survey, of: Finding) -> Finding | None:
        """What its own check still finds, if that is still the finding: not where no more than a note is left of it."""
        own = next((check for check in self.checks if check.name == of.check), None)
        for result in own.heard(survey) if own is not None else ():
            if isinstance(result, Finding) and left_of(of, result):
                return result
        return None

    def _left_over(self, trial: _Trial) -> frozenset[str]:
        """The names of all that a trial leaves, but of what is no more than a note any longer."""
        return frozenset(
            name for name in trial.left if name not in self.findings or trial.stays(self.findings[name])
        )

    def _harmless(self, trial: _Trial) -> bool:
        """No new finding above a note, none that is heavier or plainly worse than it was, and nothing vital that was not asked before."""
        return trial.vital <= self.open and all(
            other.severity == "note"
            or _by_record(name)
            or (rank(other) >= self.before.get(name, len(SEVERITIES)) and not self._worse(trial, other))
            for name, other in trial.left.items()
        )

    def _worse(self, trial: _Trial, finding: Finding) -> bool:
        """Whether a finding that stays is further from its limit than it was: more for a lamp that burns, less for a dark one."""
        was, now = self.compared.get(finding.check), trial.compared.get(finding.check)
        if was is None or now is None or not was.subject == now.subject == finding.subject:
            return False
        return now.used > WORSE * was.used

    def _halfway(self, trial: _Trial) -> bool:
        """Whether something is less bad than it was, but not good: a step further may clear it."""
        return any(rank(other) > self.before.get(name, len(SEVERITIES)) for name, other in trial.left.items())

    def _keep(self, finding: Finding, mended: _Mended) -> None:
        proposal = mended.proposal
        edits = [
            Edit(change.path, change.written or None)
            for change in proposal.changes
            if change.written is not None
        ]
        whole = len(edits) == len(proposal.changes)
        self.findings[finding.id] = replace(
            finding,
            remedy=proposal.says,
            edits=tuple(edits) if whole else None,
            remedy_figures=proposal.figures,
        )
        if finding.accepted is not None:
            return
        self.offered[finding.id] = proposal
        if proposal.alone:
            return
        self.mended[finding.id] = mended
        for name in self.findings:
            if name not in mended.left and name != finding.id:
                self._fold(name, finding.id)

    def _fold(self, name: str, cause: str) -> None:
        """Tell a finding under its cause, which is no lighter: nobody looks for a stop below a caution."""
        finding, of = self.findings[name], self.findings[cause]
        if finding.because_of is not None or finding.accepted is not None:
            return
        if not may_follow(finding.check, of.check):
            self.shared.setdefault(name, cause)
        elif rank(of) <= rank(finding):
            self.findings[name] = replace(finding, because_of=cause)

    def share(self) -> None:
        """What goes with the remedy of another finding, without coming of it, has that remedy too where it has none of its own."""
        for name, other in self.shared.items():
            finding, mended = self.findings[name], self.findings[other]
            if finding.because_of is None and name not in self.mended and mended.remedy is not None:
                self.offered[name] = self.offered[other]
                self.findings[name] = replace(
                    finding,
                    remedy=f"{mended.remedy} That mends {other} too.",
                    edits=mended.edits,
                    remedy_figures=mended.remedy_figures,
                )

    def lead_by_the_heaviest(self) -> None:
        """A finding without a remedy that goes with that of a lighter one takes it over, and what followed from that."""
        for name, finding in self.findings.items():
            if finding.because_of is not None or finding.accepted is not None or name in self.mended:
                continue
            for lighter, mended in self.mended.items():
                other = self.findings[lighter]
                heavier = rank(other) > rank(finding)
                if heavier and other.because_of is None and name not in mended.left:
                    taken = replace(
                        finding, remedy=other.remedy, edits=other.edits, remedy_figures=other.remedy_figures
                    )
                    self.findings[name] = taken
                    follow = {
                        lighter,
                        *(one for one, of in self.findings.items() if of.because_of == lighter),
                    }
                    if may_follow(other.check, finding.check):
                        for one in follow:
                            self.findings[one] = replace(self.findings[one], because_of=name)
                    break

    def _fold_together(self) -> None:
        """What goes only once several causes are mended: told under the first of them."""
        roots = [mended for name, mended in self.mended.items() if self.findings[name].because_of is None]
        changes: dict[tuple[Path, str], Change] = {}
        for mended in roots:
            for change in mended.proposal.changes:
                changes.setdefault((change.path, mended.finding if change.path[-1] == MORE else ""), change)
        trial = self._trial(changes.values()) if 1 < len(roots) <= MOST_TOGETHER else None
        if trial is None:
            return
        self.together = self._left_over(trial)
        causes = {mended.finding for mended in roots}
        for name in self.findings:
            if name not in self.together and name not in causes:
                self._fold(name, roots[0].finding)

    def _unfold(self) -> list[str]:
        """A rule said that one finding follows from another, but it stays when that is mended: it stands alone."""
        alone = []
        for name, finding in self.findings.items():
            mended = self.mended.get(finding.because_of or "")
            if _by_record(name):
                continue  # it is measured again once that is mended
            if mended is not None and name in mended.left and name in (self.together or mended.left):
                self.findings[name] = replace(finding, because_of=None)
                alone.append(name)
        return alone
