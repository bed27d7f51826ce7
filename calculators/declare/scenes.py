"""Views of a picture over two paints."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.values import Scenes

__all__ = ["ScenesResult", "scenes"]


@dataclass(frozen=True, kw_only=True)
class ScenesResult(result.Result):
    """``Scenes`` of a picture over two paints. The page moves their border: the fields ``percent`` and ``degrees``."""

    percent: str
    degrees: str
    kind = "scenes"
    section = result.SCENES

    def parts(self, value: Scenes, display: units.Display) -> dict[str, Any]:
        """Return size, paints and marks. The pixels go into the buffers."""
        scenes = [{"label": each.label, "marks": dict(each.marks)} for each in value.scenes]
        return {
            "width": value.width_px,
            "height": value.height_px,
            "paints": list(value.paints),
            "first": value.first,
            "scenes": scenes,
        }

    def plain(self, value: Scenes | None) -> dict[str, Any] | None:
        """Return size and labels."""
        return (
            None
            if value is None
            else {
                "width_px": value.width_px,
                "height_px": value.height_px,
                "scenes": [each.label for each in value.scenes],
            }
        )

    def hand_over(self, value: Scenes | None, rendered: dict[str, Any], buffers: list[bytes]) -> None:
        """Hand over the pixels of each scene over both paints."""
        for place, scene in zip(rendered["scenes"], value.scenes, strict=True) if value else ():
            place["over"] = [len(buffers), len(buffers) + 1]
            buffers += scene.over

    def details(self) -> dict[str, Any]:
        """Return the fields that the page moves."""
        return {"moved_by": [self.percent, self.degrees]}


def scenes(label: str, *, percent: str, degrees: str, help: str = "") -> Any:
    """Declare pictures over two paints, whose border the fields ``percent`` and ``degrees`` place."""
    return result.declared(ScenesResult(label=label, help=help, percent=percent, degrees=degrees))
