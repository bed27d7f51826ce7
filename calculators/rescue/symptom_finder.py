"""Finds what went wrong from a description of the symptom in the reader's own words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators import messages, tables
from calculators.declare import (
    NEITHER,
    Calculator,
    Lead,
    Link,
    Message,
    choice,
    leads,
    link,
    message,
    reasons,
    table,
    text,
    verdict,
    words,
)
from calculators.rescue import symptom_index
from calculators.rescue.stems import stem
from calculators.rescue.symptoms import Match, Meant, best_possible, ranked, share_known, understood, unknown
from calculators.stages import STAGES

ANY = "any"
#: The share of what an entry could have at best from which it is taken to fit; below it the
#: list is a guess. Found on queries of our own.
_FITS = 0.4
#: With fewer known words the finder says that it does not know: it guesses from a
#: word or two of another language otherwise.
_KNOWN = 0.5
#: Entries that have less than this share of the best one's score are left out.
_LEAST = 0.4


@dataclass(frozen=True, kw_only=True)
class SymptomFinderInputs:
    seen: str = text(
        "What you see",
        default="Frosty, silvery patches under the clear film",
        most=400,
        lines=2,
        help="In your own words: what it looks like, where it is, and when it appeared.",
    )
    stage: str = choice(
        "Stage",
        default=ANY,
        options={ANY: "any", **{each: each for each in STAGES}},
        help="Where in the work you noticed it. Entries of other stages come after.",
    )


@dataclass(frozen=True, kw_only=True)
class FoundEntry:
    entry: Link = link("Entry")
    see: str = words("What you see there")
    why: str = words("Because you said")
    stage: str = words("Stage")


_NEXT = {
    "fits": (
        Lead("rescue/remove-from-gloss/", "If the marking must come off: remove it without harm"),
        Lead("rescue/troubleshooting/", "Look through all faults, stage by stage"),
    ),
    "unsure": (
        Lead("rescue/troubleshooting/", "Look through all faults, stage by stage"),
        Lead("rescue/contribute/", "Add a fault that is missing"),
    ),
    "none": (
        Lead("rescue/troubleshooting/", "Look through all faults, stage by stage"),
        Lead("rescue/contribute/", "Add a fault that is missing"),
    ),
}


@dataclass(frozen=True, kw_only=True)
class SymptomFinderOutputs:
    verdict: str = verdict(
        "Verdict",
        levels={
            "fits": ("pass", "It is probably one of these"),
            "unsure": ("watch", "None of these is a close fit"),
            "none": ("watch", "No entry fits these words"),
        },
    )
    reasons: tuple[Message, ...] = reasons()
    entries: tuple[FoundEntry, ...] = table("Entries, the most likely first", row=FoundEntry, decides=("entry", "see"))
    next_steps: tuple[Lead, ...] = leads(_NEXT)


#: The row that leads to all entries if nothing fits.
_ALL = FoundEntry(
    entry=Link(messages.ALL_ENTRIES, "rescue/troubleshooting/"), see=messages.ALL_ENTRIES_SEE, why="", stage=""
)


def symptom_finder(inputs: SymptomFinderInputs) -> SymptomFinderOutputs:
    """Return the troubleshooting entries that fit the symptom best, at most 8, with the matching words.

    Ranking is BM25F (Robertson and Zaragoza 2009) over stemmed words; synonyms are data, and longer words may have a
    typing error.
    """
    index = symptom_index.shipped()
    meant = understood(inputs.seen, index)
    found = ranked(meant, index, "" if inputs.stage == ANY else inputs.stage)
    is_understood = share_known(meant) >= _KNOWN
    best = [each for each in found if is_understood and each.score >= _LEAST * found[0].score]
    fits = best and best[0].score >= _FITS * best_possible(meant, index)
    verdict = "fits" if fits else "unsure" if best else "none"
    return SymptomFinderOutputs(
        verdict=verdict,
        reasons=tuple(_reasons(verdict, meant, best, index)),
        entries=(*(_entry_row(each, index) for each in best), *(() if verdict == "fits" else (_ALL,))),
    )


def _reasons(verdict: str, meant: Sequence[Meant], best: Sequence[Match], index: symptom_index.Index) -> list[Message]:
    sentences = [
        message(messages.WORD_READ_AS, typed=messages.quoted(each.typed), read=messages.quoted(each.read_as))
        for each in meant
        if each.read_as
    ]
    if best:
        asked = [each.typed for each in meant if each.taken and " " not in each.typed]
        there = {word for typed in best[0].by for word in typed.split()}
        sentence = messages.FITS_BEST if len(asked) > 1 else messages.FITS_BEST_OF_ONE
        sentences.insert(
            0,
            message(
                sentence,
                title=messages.quoted(index.titles[best[0].place], 100),
                found=len(there & {*asked}),
                asked=len(asked),
            ),
        )
        sentences += [message(messages.WORD_UNKNOWN, typed=messages.quoted(each)) for each in unknown(meant)]
    if verdict == "unsure":
        sentences.append(message(messages.SAY_MORE))
    if verdict == "none":
        sentences.append(message(messages.NOTHING_KNOWN))
    return sentences


def _entry_row(match: Match, index: symptom_index.Index) -> FoundEntry:
    why = [
        typed if stem(typed) == stem(found) else messages.WORD_BY_ANOTHER.format(typed=typed, found=found)
        for typed, found in match.by.items()
    ]
    return FoundEntry(
        entry=Link(index.titles[match.place], f"rescue/{index.ids[match.place]}/"),
        stage=index.stages[match.place],
        why=", ".join(why),
        see=index.see(match.place),
    )


SYMPTOM_FINDER = Calculator(
    id="symptom-finder",
    title="What went wrong?",
    summary=(
        "Describe what you see in your own words. The entries that fit come first, each with its causes, a "
        "test for each cause, and what to do now."
    ),
    stage="rescue",
    about=NEITHER,
    inputs=SymptomFinderInputs,
    outputs=SymptomFinderOutputs,
    compute=symptom_finder,
    sources=(tables.COMMON_PRACTICE,),
    order=10,
)
