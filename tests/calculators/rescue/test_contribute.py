"""The entry form refuses what the file checker refuses, in its own words; entries it accepts pass the checker."""

import json
import re
import shutil
from copy import deepcopy
from pathlib import Path

import pytest
import yaml

from builder.check import check
from calculators import tables
from calculators.answer import answer
from calculators.catalogue import find
from calculators.rescue.contribute import CauseInputs, ContributeInputs, plain_entry
from calculators.rescue.entry_file import entry_file
from calculators.tables import columns
from calculators.tables.rows import Cause, Trouble
from calculators.tables.rules import made_id

ROOT = Path(__file__).resolve().parents[3]
CONTRIBUTE = find("contribute")
EXAMPLE = plain_entry(ContributeInputs())
LONG = "A sentence of some length that goes on. " * 12


def part(name, text):
    return lambda entry: entry.update({name: text})


def of_cause(place, name, text):
    return lambda entry: entry["causes"][place].update({name: text})


def causes(count):
    one = EXAMPLE["causes"][0]
    return lambda entry: entry.update(
        causes=[{name: f"{place}: {text}" for name, text in one.items()} for place in range(count)]
    )


def listed(name, *texts):
    return lambda entry: entry.update({name: list(texts)})


#: Each puts one mistake into a correct entry; the second value is the field where the form must report it.
MISTAKES = {
    "empty title": (part("title", ""), "title"),
    "blank title": (part("title", "   "), "title"),
    "title with a stop": (part("title", "The marking folds."), "title"),
    "title too long": (part("title", "The marking folds " * 6 + "up"), "title"),
    "title with markup": (part("title", "The <b>marking</b> folds"), "title"),
    "title with a script": (part("title", "<script>alert(1)</script>"), "title"),
    "title with a wait": (part("title", "The marking folds after {soak}"), "title"),
    "title with a typed wait": (part("title", "The marking folds after 2 hours"), "title"),
    "title of another entry": (part("title", tables.row("troubleshooting", "silvering").title), "title"),
    "title of another entry in capitals": (
        part("title", tables.row("troubleshooting", "silvering").title.upper()),
        "title",
    ),
    "empty sight": (part("see", ""), "see"),
    "sight without a stop": (part("see", "It folds beside the tab"), "see"),
    "sight too long": (part("see", LONG.strip()), "see"),
    "sight with a character reference": (part("see", "It folds &amp; tears."), "see"),
    "sight with a template": (part("see", "It folds {{ soak }}."), "see"),
    "sight with a sign nobody sees": (part("see", "It fo\u200blds."), "see"),
    "sight read backwards": (part("see", "It \u202efolds."), "see"),
    "said in two ways only": (listed("said", "comes off", "will not stay"), "said"),
    "said in sixteen ways": (
        listed(
            "said",
            *(
                f"{word} off"
                for word in (
                    "falls slides drops comes goes pops peels lifts rolls curls flies flakes rubs washes wipes blows"
                ).split()
            ),
        ),
        "said",
    ),
    "said with a stop": (listed("said", "comes off", "will not stay", "it falls."), "said"),
    "said at length": (
        listed(
            "said",
            "comes off",
            "will not stay",
            "it falls off as soon as I turn the model over to look at the other side",
        ),
        "said",
    ),
    "said twice alike": (listed("said", "comes off", "will not stay", "comes off"), "said"),
    "no cause": (causes(0), "causes"),
    "one cause": (causes(1), "causes"),
    "six causes": (causes(6), "causes"),
    "empty cause": (of_cause(0, "cause", ""), "causes[0].cause"),
    "cause without a stop": (of_cause(1, "cause", "The tab was wide"), "causes[1].cause"),
    "empty test": (of_cause(1, "test", ""), "causes[1].test"),
    "test too long": (of_cause(0, "test", LONG.strip()), "causes[0].test"),
    "nothing to do now": (of_cause(0, "now", ""), "causes[0].now"),
    "a wait in hours": (of_cause(0, "now", "Leave it 24 hours."), "causes[0].now"),
    "a wait in words": (of_cause(0, "now", "Leave it two or three days."), "causes[0].now"),
    "a wait that is none": (of_cause(1, "now", "Leave it {soke}, then slide it."), "causes[1].now"),
    "a brace that is not closed": (of_cause(1, "now", "Leave it {soak, then slide it."), "causes[1].now"),
    "nothing to avoid": (listed("avoid"), "avoid"),
    "six things to avoid": (listed("avoid", "A.", "B.", "C.", "D.", "E.", "F."), "avoid"),
    "the same twice to avoid": (listed("avoid", "Cut it narrow.", "Cut it narrow."), "avoid"),
    "five things never to do": (listed("never", "A.", "B.", "C.", "D.", "E."), "never"),
    "never without a stop": (listed("never", "Do not pull"), "never"),
    "related to nothing": (listed("related"), "related"),
    "related to five": (listed("related", *list(tables.names("troubleshooting"))[:5]), "related"),
    "related to what is not there": (listed("related", "silverin"), "related"),
    "related to one twice": (listed("related", "silvering", "silvering"), "related"),
    "related to itself": (lambda entry: entry.update(related=[entry["id"]]), "related"),
}


#: What the form corrects by itself: typed text, the part, and the text in the file.
TIDIED = {
    "blanks round a title": ("title", "  The marking folds ", "The marking folds"),
    "a line's end in a sight": ("see", "It folds.\nIt tears.", "It folds. It tears."),
    "a tab in a sight": ("see", "It folds.\tIt tears.", "It folds. It tears."),
    "the marks of a phone": ("see", "It won’t “lie”.", "It won't 'lie'."),
    "blanks round a line": ("avoid", "  Cut it narrow. \n\n", ["Cut it narrow."]),
    "a title under see also": ("related", tables.names("troubleshooting")["silvering"], ["silvering"]),
    "titles in other capitals": (
        "related",
        tables.names("troubleshooting")["silvering"].upper() + "\nBanding",
        ["silvering", "banding"],
    ),
    "a title with a comma": (
        "related",
        next(name for name in tables.names("troubleshooting").values() if "," in name),
        [next(id for id, name in tables.names("troubleshooting").items() if "," in name)],
    ),
    "addresses under see also": (
        "related",
        "https://host.example/rescue/silvering/\nrescue/banding/",
        ["silvering", "banding"],
    ),
    "names of files under see also": ("related", "silvering, banding", ["silvering", "banding"]),
}


def mistakes_by_checker(root, texts):
    """Return the checker's mistakes for each text by id, with all texts added to the shipped entries at once."""
    shutil.copytree(ROOT / "data", root / "data")
    for id, text in texts.items():
        (root / "data" / "troubleshooting" / f"{id}.yaml").write_text(text, "utf-8")
    mistakes = {id: [] for id in texts}
    for each in check(root):
        mistakes[Path(each.file).stem].append((each.what, each.fix))
    return mistakes


def sentence(words):
    return words[:1].upper() + words[1:]


def typed(entry):
    """What a reader types for an entry."""
    return {
        "title": entry["title"],
        "stage": entry["stage"],
        "see": entry["see"],
        "said": "\n".join(entry.get("said", [])),
        "causes": entry["causes"],
        "id": entry["id"],
        "avoid": "\n".join(entry["avoid"]),
        "never": "\n".join(entry["never"]),
        "related": ", ".join(entry["related"]),
    }


def ask(inputs):
    *_, (text, buffers) = answer(json.dumps({"do": "answer", "calculator": "contribute", "inputs": inputs}))
    return json.loads(text), buffers


def as_yaml(entry):
    """An entry as a contributor would write it by hand, with its mistakes."""
    return (
        "\n".join(f"{name}: {json.dumps(value)}" for name, value in entry.items() if name != "id")
        + "\nsource: common-practice\n"
    )


def test_the_form_has_enough_sample_mistakes():
    assert len(MISTAKES) >= 40


def spoilt(name):
    """An entry with one mistake. Its id sorts last, since a duplicate name is reported at the later entry."""
    entry = deepcopy(EXAMPLE)
    entry["id"] = f"zz-{made_id(name)}"
    entry["title"] = f"It has {name}"[:80]
    entry.pop("waits", None)
    MISTAKES[name][0](entry)
    if "{soak}" in json.dumps([each for part, each in entry.items() if part != "title"]):
        entry["waits"] = ["soak"]
    return entry


@pytest.fixture(scope="module")
def by_checker(tmp_path_factory):
    entries = [spoilt(name) for name in MISTAKES]
    return mistakes_by_checker(tmp_path_factory.mktemp("spoilt"), {entry["id"]: as_yaml(entry) for entry in entries})


#: Here the checker names files and ids, which readers of the form do not know.
OTHER_WORDS = {"title of another entry", "title of another entry in capitals", "related to what is not there"}


@pytest.mark.parametrize("name", MISTAKES)
def test_form_and_checker_report_the_same_mistake_once(by_checker, name):
    reply, _ = ask(typed(spoilt(name)))
    assert reply["outcome"] == "problems"
    (problem,) = reply["problems"]
    ((what, _),) = by_checker[spoilt(name)["id"]]
    assert problem["field"] == MISTAKES[name][1]
    if name not in OTHER_WORDS:
        assert problem["text"] == sentence(as_labelled(what))


@pytest.mark.parametrize("name", MISTAKES)
def test_a_form_shows_no_names_of_parts_files_or_rows(name):
    reply, _ = ask(typed(spoilt(name)))
    for each in reply["problems"]:
        message = f"{each['text']} {each['hint']}"
        for internal in (
            *(f"'{part}" for part in (*columns(Trouble), *columns(Cause))),
            "data/",
            ".yaml",
            " row",
            "take the line",
        ):
            assert internal not in message
        assert each["hint"][0].isupper() and each["hint"][-1] in ".?"


def as_labelled(what):
    """The checker's message with the label of each part in place of its name."""
    labels = {name: column.label for row in (Trouble, Cause) for name, column in columns(row).items()}
    return re.sub(r"'(\w+)'", lambda found: f"'{labels.get(found[1], found[1])}'", what)


@pytest.mark.parametrize("name", TIDIED)
def test_a_form_tidies_unambiguous_input(tmp_path, name):
    part, text, written = TIDIED[name]
    reply, buffers = ask({**typed(EXAMPLE), part: text, "id": "zz-tidied"})
    assert reply["outcome"] == "result", reply
    made = bytes(buffers[0]).decode()
    assert yaml.safe_load(made)[part] == written
    assert mistakes_by_checker(tmp_path, {"zz-tidied": made}) == {"zz-tidied": []}


def test_accepted_entries_pass_the_checker_unchanged(tmp_path):
    """Every third shipped entry, typed in again under another name, and the example of the form."""
    shipped = {
        id: yaml.safe_load((ROOT / "data" / "troubleshooting" / f"{id}.yaml").read_text("utf-8"))
        for id in list(tables.names("troubleshooting"))[::3]
    }
    written = {}
    for id, parts in shipped.items():
        reply, buffers = ask(typed({**parts, "id": f"again-{id}", "title": f"Again: {parts['title']}"[:80]}))
        assert reply["outcome"] == "result", (id, reply)
        written[f"again-{id}"] = bytes(buffers[0]).decode()
        made = yaml.safe_load(written[f"again-{id}"])
        assert {**made, "title": parts["title"], "waits": sorted(made.get("waits", []))} == {
            **parts,
            "waits": sorted(parts.get("waits", [])),
        }
    reply, buffers = ask({})
    written[reply["files"][0]["name"].removesuffix(".yaml")] = bytes(buffers[0]).decode()
    assert mistakes_by_checker(tmp_path, written) == {id: [] for id in written}


def test_an_id_that_is_taken():
    reply, _ = ask({"id": "silvering"})
    assert [(each["field"], each["text"], each["hint"]) for each in reply["problems"]] == [
        ("id", "There is a file called 'silvering' already", "Give this one a name of its own.")
    ]


def test_a_nearly_matching_title_is_suggested():
    reply, _ = ask({"related": "Silvery patch under the clear film"})
    assert [(each["field"], each["hint"]) for each in reply["problems"]] == [
        ("related", "Did you mean 'Silvery patches under the clear film'?")
    ]


def test_all_problems_at_once():
    reply, _ = ask({"title": "", "see": "no stop", "never": ""})
    assert [each["field"] for each in reply["problems"]] == ["title", "see", "never"]


def test_the_name_of_the_file_is_made_from_the_title():
    reply, _ = ask({"title": "Étched lines, & more: a «test»"})
    assert reply["files"][0]["name"] == f"{made_id('Étched lines, & more: a «test»')}.yaml"


def test_no_text_becomes_markup_in_the_preview():
    """Texts that the rules accept, with every character that is special in HTML."""
    entry = {**typed(EXAMPLE), "see": "It is 3 < 4 & \"wide\", 'so' > thin.", "avoid": 'Say " onload="x.'}
    reply, _ = ask(entry)
    html = reply["view"]["preview"]["html"]
    assert "It is 3 &lt; 4 &amp; &quot;wide&quot;, &#x27;so&#x27; &gt; thin." in html
    assert "<li>Say &quot; onload=&quot;x.</li>" in html


def test_preview_phrases_are_separate_from_punctuation():
    """The site's search treats adjacent punctuation as part of a word."""
    reply, _ = ask({**typed(EXAMPLE), "said": 'fell off\n\nwon\'t stick\n3 < 4 "x"'})
    assert (
        '<p class="dw-entry-said">Also said: fell off · won&#x27;t stick · 3 &lt; 4 &quot;x&quot;</p>'
        in reply["view"]["preview"]["html"]
    )
    reply, buffers = ask({**typed(EXAMPLE), "said": ""})
    assert "dw-entry-said" not in reply["view"]["preview"]["html"]
    assert "said:" not in bytes(buffers[0]).decode()


def test_yaml_syntax_in_text_is_escaped():
    odd = 'Colour: "red" # not \\ a remark, [no] {soak} * & ! | > % @ list.'
    text = entry_file({**EXAMPLE, "see": odd})
    assert yaml.safe_load(text)["see"] == odd


def test_the_causes_keep_their_order():
    rows = [CauseInputs(cause=f"{place}.", test=f"Test {place}.", now=f"Now {place}.") for place in "CAB"]
    assert [each["cause"] for each in plain_entry(ContributeInputs(causes=tuple(rows)))["causes"]] == ["C.", "A.", "B."]


@pytest.mark.parametrize("id", ["two\nlines", "tab\tbed", "\u202egnp", "zero\u200bwidth"])
def test_typed_text_is_quoted_on_one_safe_line(id):
    reply, _buffers = ask({"id": id})
    (problem,) = [each for each in reply["problems"] if each["field"] == "id"]
    assert (problem["text"] + problem["hint"]).isprintable()


def test_a_suggested_id_is_on_one_line():
    reply, _buffers = ask({"id": "white\nOO", "related": "whiteOO"})
    assert reply["problems"] and all((each["text"] + each["hint"]).isprintable() for each in reply["problems"])
