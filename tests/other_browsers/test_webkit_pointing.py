"""What is dragged and tapped on pictures follows the pointer in WebKit, the engine of many tablets."""

from __future__ import annotations

from typing import Any

import pytest

from tests.other_browsers.test_webkit import wait, webkit

__all__ = ["webkit"]
pytestmark = [
    pytest.mark.browser,
    pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning"),  # selenium's own
]

BOX = """const box = document.querySelector(arguments[0]).getBoundingClientRect();
return [box.x, box.y, box.width, box.height];"""
#: A drag goes through so many places, as a finger's does.
STEPS = 5


def opened(webkit: Any, address: str) -> None:
    webkit.set_window_size(1180, 820)
    webkit.get(address)
    state = "return document.querySelector('.dw-answer')?.dataset.state"
    wait(webkit, lambda: webkit.execute_script(state) == "answered")
    webkit.execute_script("document.querySelector('.dw-workplace').scrollIntoView({ behavior: 'instant' })")


def text(webkit: Any, of: str) -> str:
    found: str = webkit.execute_script("return document.querySelector(arguments[0])?.textContent ?? ''", of)
    return found


def middle(webkit: Any, of: str) -> tuple[float, float]:
    x, y, width, height = webkit.execute_script(BOX, of)
    return x + width / 2, y + height / 2


def drag(webkit: Any, start: tuple[float, float], by: tuple[float, float]) -> None:
    """Press the pointer at ``start``, move it ``by`` in steps and let it go. The page must not scroll meanwhile."""
    from selenium.webdriver.common.actions.action_builder import ActionBuilder

    before = webkit.execute_script("return scrollY")
    actions = ActionBuilder(webkit, duration=50)
    pointer = actions.pointer_action
    pointer.move_to_location(round(start[0]), round(start[1]))
    pointer.pointer_down()
    for step in range(1, STEPS + 1):
        pointer.move_to_location(*(round(a + b * step / STEPS) for a, b in zip(start, by, strict=True)))
    pointer.pointer_up()
    actions.perform()
    assert webkit.execute_script("return scrollY") == before


def test_a_point_is_dragged_in_webkit(workbench_server, webkit):
    opened(webkit, f"{workbench_server.url}size/drawing-size/")
    point = ".dw-point:not([hidden])"
    x, y = middle(webkit, point)
    drag(webkit, (x, y), (40, 25))
    there = middle(webkit, point)
    assert there == pytest.approx((x + 40, y + 25), abs=2)
    assert "x" in text(webkit, ".dw-points-status")


def test_the_border_is_dragged_in_webkit(workbench_server, webkit):
    opened(webkit, f"{workbench_server.url}underlay/underlay/")
    grip = ".dw-border-grip[data-moves=percent]"
    assert "50 %" in text(webkit, ".dw-scenes-status")
    drag(webkit, middle(webkit, grip), (0, 60))
    wait(webkit, lambda: "50 %" not in text(webkit, ".dw-scenes-status"))


#: A white area whose middle is its own and on the screen: its number and that place.
TAPPABLE = """for (const area of document.querySelectorAll("path.dw-area")) {
  const box = area.getBoundingClientRect(), x = box.x + box.width / 2, y = box.y + box.height / 2;
  if (document.elementFromPoint(x, y) === area) return [area.dataset.area, x, y];
}
return null;"""


def test_a_white_area_is_marked_in_webkit(workbench_server, webkit):
    opened(webkit, f"{workbench_server.url}artwork/white-areas/")
    found = webkit.execute_script(TAPPABLE)
    assert found
    number, x, y = found
    meant = f"return document.querySelector('path.dw-area[data-area=\"{number}\"]').dataset.meant"
    before = webkit.execute_script(meant)
    drag(webkit, (x, y), (0, 0))
    wait(webkit, lambda: webkit.execute_script(meant) != before, lambda: text(webkit, ".dw-marks-status"))
