"""The symptom finder on queries of somebody who had not seen its synonyms: the right entry stands among the first three."""

from pathlib import Path

import pytest
import yaml

from tests.calculators.rescue.test_symptom_finder import found

QUERIES = yaml.safe_load((Path(__file__).parent / "queries.yaml").read_text("utf-8"))
LEAST_SHARE = 0.85


def missed(split: str) -> dict[str, list[str]]:
    """Return the queries of a split that none of their entries is found for among the first three, with what is."""
    first = {each["query"]: found(each["query"], each.get("stage", ""), 3) for each in QUERIES if each["split"] == split}
    return {each["query"]: first[each["query"]] for each in QUERIES if each["split"] == split and not {*each["finds"]} & {*first[each["query"]]}}


#: Not reached yet: 30 of 40 and 53 of 80. Strict, so that reaching it is noticed.
@pytest.mark.xfail(strict=True, reason="the finder knows too few of the words that readers use")
@pytest.mark.parametrize(("split", "least"), [("tune", 40), ("test", 80)])
def test_the_right_entry_is_among_the_first_three(split, least):
    count = sum(each["split"] == split for each in QUERIES)
    assert count >= least
    lost = missed(split)
    print(f"{split}: {count - len(lost)} of {count}")
    assert len(lost) <= (1 - LEAST_SHARE) * count, lost
