"""A new troubleshooting entry, checked by the rules of its table and written as its file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any

from calculators import messages, tables
from calculators.declare import (
    NEITHER,
    Calculator,
    Lead,
    Message,
    NamedFile,
    Problem,
    Prose,
    Refused,
    choice,
    file_result,
    leads,
    message,
    prose,
    reasons,
    rows,
    text,
    verdict,
)
from calculators.markup import escape
from calculators.rescue.entry_file import entry_file
from calculators.rescue.entry_page import entry_html
from calculators.stages import STAGES
from calculators.tables import columns
from calculators.tables.rows import Cause, Trouble
from calculators.tables.rules import WAIT, Slip, folded, in_form, made_id, plain_quotes, slips
from calculators.tables.whole import RULES

TABLE = "troubleshooting"
FOLDER = f"data/{TABLE}"
#: Far above the limit of any part, since the rules of the table report texts that are too long.
_MOST = 4000
_ENTRY, _CAUSE = columns(Trouble), columns(Cause)


def _sentence(words: str) -> str:
    """Return the lower-case text of a declaration or a cure as a sentence."""
    return messages.as_subject(words) + ("" if words.endswith((".", "?")) else ".")


def _written(column: Any, default: str, *, lines: int = 1, help: str = "") -> Any:
    """Declare the field for a part of an entry. It may be empty here, since the table's rules report that."""
    return text(
        column.label, default=default, most=_MOST, may_be_empty=True, lines=lines, help=_sentence(help or column.help)
    )


@dataclass(frozen=True, kw_only=True)
class CauseInputs:
    cause: str = _written(_CAUSE["cause"], "", lines=2)
    test: str = _written(_CAUSE["test"], "", lines=3)
    now: str = _written(
        _CAUSE["now"],
        "",
        lines=3,
        help="if this is the cause; a wait by its name in braces, such as {soak}: the page prints how long",
    )


_EXAMPLE = (
    CauseInputs(
        cause="The tab was as wide as the marking is tall, and the film hinged on it.",
        test="The fold runs along the tab, and the rest of the marking is flat.",
        now="Float the fold out with a wet brush, and cut the tab to a third of its width before you slide.",
    ),
    CauseInputs(
        cause="The film was slid while part of it still stuck to the paper.",
        test="The paper beneath the fold is dry, and the film there resists the brush.",
        now="Wet it again, leave it {soak}, and slide it only once all of it moves.",
    ),
)


@dataclass(frozen=True, kw_only=True)
class ContributeInputs:
    title: str = _written(_ENTRY["title"], "The marking folds at its holding tab")
    stage: str = choice(
        _ENTRY["stage"].label,
        default="apply",
        options={each: each for each in STAGES},
        help=_sentence(_ENTRY["stage"].help),
    )
    see: str = _written(
        _ENTRY["see"], "The film creases beside the strip that is held, as the marking slides off its paper.", lines=3
    )
    said: str = _written(
        _ENTRY["said"],
        "crumples where I hold it\nkinks when I pull it off the paper\nbent next to the tweezers",
        lines=4,
        help=(
            "three to fifteen short phrases in which somebody who knows no word of the trade would tell of it, "
            "each on a line of its own; or nothing"
        ),
    )
    causes: tuple[CauseInputs, ...] = rows(
        _ENTRY["causes"].label,
        row=CauseInputs,
        default=_EXAMPLE,
        fewest=0,
        most=8,
        help=_sentence(_ENTRY["causes"].help),
    )
    avoid: str = _written(
        _ENTRY["avoid"],
        "Cut the holding tab narrow, at one end of the marking.",
        lines=3,
        help="how to avoid it, one to five sentences, each on a line of its own",
    )
    never: str = _written(
        _ENTRY["never"],
        "Do not pull at the tab: the film tears where it folds.",
        lines=3,
        help="one to four sentences, each on a line of its own",
    )
    related: str = _written(
        _ENTRY["related"],
        "\n".join(tables.names(TABLE)[each] for each in ("tears-while-placing", "will-not-leave-backing")),
        lines=4,
        help="the titles of one to four entries that are easily taken for it, each on a line of its own",
    )
    id: str = text(
        "File name",
        default="",
        most=_MOST,
        may_be_empty=True,
        help="In lower case with hyphens; empty: made from the title.",
    )


_NEXT = {"in-order": (Lead("rescue/troubleshooting/", "See which faults are in the book already"),)}


@dataclass(frozen=True, kw_only=True)
class ContributeOutputs:
    verdict: str = verdict("Verdict", levels={"in-order": ("pass", "This entry is in order")})
    reasons: tuple[Message, ...] = reasons()
    file: NamedFile = file_result("The entry as a file", proposed=FOLDER)
    preview: Prose = prose("As it will look")
    next_steps: tuple[Lead, ...] = leads(_NEXT)


def contribute(inputs: ContributeInputs) -> ContributeOutputs:
    """Return the entry as a file and as a preview. Raises ``Refused`` for anything that the file checker would
    report.
    """
    plain = plain_entry(inputs)
    found = list(problems(plain))
    if found:
        raise Refused(*found)
    name = f"{plain['id']}.yaml"
    return ContributeOutputs(
        verdict="in-order",
        reasons=(
            message(messages.ENTRY_GOES_TO, name=name, folder=FOLDER),
            message(messages.ENTRY_TESTS_TELL_APART),
            message(messages.ENTRY_IS_COMMON_PRACTICE),
            message(messages.ENTRY_IS_SENT),
        ),
        file=NamedFile(name, "application/yaml", entry_file(plain).encode()),
        preview=Prose((preview(plain),)),
    )


def plain_entry(inputs: ContributeInputs) -> dict[str, Any]:
    """Return typed texts as the trimmed parts of an entry.

    Its waits are those that the texts name.
    """
    made: dict[str, Any] = {
        "id": inputs.id.strip().removesuffix(".yaml") or made_id(inputs.title) or "entry",
        "title": _tidy(inputs.title),
        "stage": inputs.stage,
        "see": _tidy(inputs.see),
        "causes": [{part: _tidy(getattr(each, part)) for part in _CAUSE} for each in inputs.causes],
        "avoid": _lines(inputs.avoid),
        "never": _lines(inputs.never),
        "related": _related(inputs.related),
    }
    if phrases := _lines(inputs.said):
        made["said"] = phrases
    texts = [made["see"], *made["avoid"], *made["never"], *(part for each in made["causes"] for part in each.values())]
    known = tables.by_id("drying-times")
    if waits := dict.fromkeys(each for one in texts for each in WAIT.findall(one) if each in known):
        made["waits"] = list(waits)
    return made


def _tidy(typed: str) -> str:
    """Return a text for the file: on one line, with typographic quotation marks replaced by plain ones."""
    return plain_quotes(re.sub(r"[ \t\r\n]+", " ", typed).strip())


def _lines(typed: str) -> list[str]:
    return [_tidy(each) for each in typed.split("\n") if each.strip()]


def _known_as() -> dict[str, str]:
    """Return the ids of the entries by folded title and by id."""
    names = tables.names(TABLE)
    return {folded(name): id for id, name in names.items()} | {id: id for id in names}


def _related(typed: str) -> list[str]:
    """Return the ids of the entries that are named, by title or by the last part of their address.

    What is neither stays as it is.
    """
    ids = _known_as()

    def found(words: str) -> str | None:
        return ids.get(folded(words.rstrip("/").rpartition("/")[2])) or ids.get(folded(words))

    made: list[str] = []
    for line in _lines(typed):
        # A title may contain a comma, so try the whole line first.
        parts = [line] if found(line) else [part.strip() for part in line.split(",") if part.strip()]
        made += [found(each) or each for each in parts]
    return made


def _meant_title(slip: Slip, plain: dict[str, Any]) -> Slip:
    """Return the slip with the title that was meant as its cure, where a title or an id is nearly one."""
    if slip.path[0] != "related" or slip.fix != messages.TAKE_A_TITLE:
        return slip
    ids = _known_as()
    near = get_close_matches(folded(plain["related"][slip.path[1]]), ids, n=1)
    return (
        replace(slip, fix=messages.DID_YOU_MEAN_ROW.format(meant=tables.names(TABLE)[ids[near[0]]])) if near else slip
    )


def problems(plain: dict[str, Any]) -> Iterator[Problem]:
    """Yield the checker's mistakes in an entry, in the words of the form, each with its field."""
    names = tables.names(TABLE)
    ids = {TABLE: {*names, plain["id"]}, "drying-times": tables.by_id("drying-times")}
    found = list(slips(Trouble, {**plain, "source": tables.COMMON_PRACTICE}, ids))
    for rule in () if found else RULES[TABLE]:
        found += [replace(slip, fix=in_form(slip.fix)) for slip in rule(plain, ids)]
    for slip in found:
        meant = _meant_title(slip, plain)
        yield from _problem(_field(slip), (meant.what, meant.fix))
    if found:
        return
    if plain["id"] in names:
        yield from _problem("id", (messages.FILE_NAME_TAKEN.format(id=plain["id"]), messages.OWN_FILE_NAME))
    title = folded(plain["title"])
    if other := next((name for name in names.values() if folded(name) == title), ""):
        yield from _problem("title", (messages.TITLE_OF_ANOTHER.format(title=other), messages.OWN_TITLE))


def _problem(field: str, wrong: tuple[str, str]) -> Iterator[Problem]:
    yield Problem(field, messages.as_subject(wrong[0]), _sentence(wrong[1]))


def _field(slip: Slip) -> str:
    """The address of the field with the slip: lists of words are one field, causes are rows."""
    name, *rest = slip.path
    if name == "causes" and len(rest) == 2:
        return f"causes[{rest[0]}].{rest[1]}"
    return str(name)


def preview(plain: dict[str, Any]) -> str:
    """Return a correct entry as its page will show it."""
    names = tables.names(TABLE)
    waits = tables.by_id("drying-times")
    # The pages of this calculator and of the entries are in one folder, two levels below the root of the site.
    links = [(f"../../rescue/{each}/", names[each]) for each in plain["related"]]
    entry = Trouble(**{**plain, "causes": [Cause(**each) for each in plain["causes"]], "source": None})

    def rendered(sentence: str) -> str:
        parts = WAIT.split(sentence)
        return "".join(
            f"<strong>{escape(waits[part].usual.in_words)}</strong>" if place % 2 else escape(part)
            for place, part in enumerate(parts)
        )

    page = entry_html(entry, render=rendered, stage_link=f"../../{entry.stage}/", related=links, ids=False)
    return f'<p class="dw-preview-title">{escape(entry.title)}</p>\n{page}'


CONTRIBUTE = Calculator(
    id="contribute",
    title="How do I add a fault that is missing?",
    summary=(
        "Write down what went wrong, what made it and how it was put right. The entry is checked as you type, "
        "and shown as it will look."
    ),
    stage="rescue",
    about=NEITHER,
    inputs=ContributeInputs,
    outputs=ContributeOutputs,
    compute=contribute,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=200,
)
