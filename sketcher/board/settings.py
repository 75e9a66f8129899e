"""The one table of settings: the preferences form, the defaults and the file come from it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, TypeAlias

from sketcher.errors import FileError, SketcherError
from sketcher.part.atomic import write_bytes

Kind: TypeAlias = Literal["switch", "number", "whole", "choice", "text"]
SettingValue: TypeAlias = bool | int | float | str
MAX_BYTES = 200_000


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting: its name in the file, default, kind of field, label and one sentence of help.

    `choices` are the values of a choice; `least` and `most` bound a number,
    `unit` stands behind it.
    """

    name: str
    default: SettingValue
    kind: Kind
    label: str
    help: str
    choices: tuple[str, ...] = ()
    least: float = 0.0
    most: float = 1e9
    unit: str = ""

    def checked(self, value: object) -> SettingValue:
        """Return `value` in this setting's type.

        Raises
        ------
        SketcherError
            When it does not fit; the text says what would.
        """
        if self.kind == "switch" and isinstance(value, bool):
            return value
        if self.kind in ("number", "whole") and isinstance(value, int | float):
            fits = not isinstance(value, bool) and self.least <= value <= self.most
            if fits and (self.kind == "number" or float(value).is_integer()):
                return int(value) if self.kind == "whole" else float(value)
        if self.kind == "choice" and value in self.choices:
            return str(value)
        if self.kind == "text" and isinstance(value, str) and len(value) <= 500:
            return value
        raise SketcherError(f"settings.{self.name}", f"{value!r} does not fit", self._remedy())

    def _remedy(self) -> str:
        if self.kind == "switch":
            return "use true or false"
        if self.kind == "choice":
            return f"use one of {', '.join(self.choices)}"
        if self.kind == "text":
            return "use a text of at most 500 characters"
        what = "whole number" if self.kind == "whole" else "number"
        return f"use a {what} from {self.least:g} to {self.most:g}"


TABLE: tuple[Setting, ...] = (
    Setting("look", "dye", "choice", "Look",
            "Dark sheet under layout dye, or light paper for projectors and print.",
            ("dye", "paper")),
    Setting("unit", "mm", "choice", "Unit of new parts", "Unit that a new part is drawn in.",
            ("mm", "in")),
    Setting("mm_places", 3, "whole", "Decimals in millimetres",
            "Most decimals that the readout and the ledger show in millimetres.", most=9),
    Setting("in_places", 4, "whole", "Decimals in inches",
            "Decimals that the readout and the ledger show in inches.", most=9),
    Setting("angle_dms", False, "switch", "Angles in minutes and seconds",
            "Show 15\N{DEGREE SIGN}30'20\" instead of decimal degrees."),
    Setting("snaps", True, "switch", "Snap while drawing",
            "Take ends, midpoints, centers, crossings and directions near the pointer; "
            "Ctrl holds them off."),
    Setting("bind_drawn", True, "switch", "Bind what a snap showed",
            "What a snap shows while drawing becomes a binding."),
    Setting("bind_typed", True, "switch", "Typed values become dimensions",
            "A value typed into the readout while drawing becomes a dimension."),
    Setting("reach", 9, "whole", "Pick distance", "How near the pointer must come, in pixels.",
            least=3, most=40, unit="px"),
    Setting("snap_direction", 3.0, "number", "Directions snap within",
            "Degrees within which a line is taken as level, plumb, parallel or square.",
            least=0.5, most=10.0, unit="\N{DEGREE SIGN}"),
    Setting("show_grid", True, "switch", "Grid", "Show the grid of the part's unit."),
    Setting("show_bindings", False, "switch", "All binding signs",
            "Show the signs of all bindings without a value; else only of what is selected or "
            "pointed at, and of trouble."),
    Setting("show_dimensions", True, "switch", "Dimensions", "Show dimensions on the sheet."),
    Setting("show_centers", True, "switch", "Center lines",
            "Show the center lines that the finished drawing will have."),
    Setting("show_layout", True, "switch", "Layout lines",
            "Show scribed layout lines; hidden ones are not picked either."),
    Setting("show_motion", True, "switch", "Motion arrows",
            "Show how loose points can move."),
    Setting("show_ledger", True, "switch", "Ledger", "Show the list of bindings at the left."),
    Setting("show_inspection", True, "switch", "Inspection",
            "Show what was measured at the right, and what would mend what is wrong."),
    Setting("text_size", 13, "whole", "Size of words on the sheet", "In pixels.", least=9, most=32,
            unit="px"),
    Setting("autosave_seconds", 20, "whole", "Recovery copy at least every",
            "Seconds between two recovery copies while you work.", least=2, most=600, unit="s"),
    Setting("cut_process", "not said", "choice", "Process of cuts",
            "What the page for cutting begins with.", ("not said", "laser", "plasma")),
    Setting("kerf_laser", "", "text", "Kerf of the laser",
            "Width of the cut with its unit, as last used; empty for the nominal size."),
    Setting("kerf_plasma", "", "text", "Kerf of the plasma",
            "Width of the cut with its unit, as last used; empty for the nominal size."),
    Setting("cut_lead", "none", "choice", "Lead-ins", "Without, or by thickness and kerf.",
            ("none", "auto")),
    Setting("cut_form", "r2000", "choice", "Version of cutting DXFs",
            "R12 for controllers that read nothing newer.", ("r2000", "r12")),
    Setting("cut_pieces", False, "switch", "Cut single pieces",
            "Lines, arcs and circles one by one in place of closed contours."),
    Setting("recent_count", 8, "whole", "Recent files", "How many the start page lists.", most=30),
)
BY_NAME: Mapping[str, Setting] = {setting.name: setting for setting in TABLE}


class Settings:
    """Values of the settings; reading one that was never set gives its default."""

    def __init__(self, values: Mapping[str, SettingValue] | None = None) -> None:
        self._values: dict[str, SettingValue] = {}
        for name, value in (values or {}).items():
            self[name] = value

    def __getitem__(self, name: str) -> Any:
        return self._values.get(name, _known(name).default)

    def __setitem__(self, name: str, value: object) -> None:
        self._values[name] = _known(name).checked(value)

    def __iter__(self) -> Iterator[str]:
        return iter(BY_NAME)

    def reset(self, name: str) -> None:
        """Go back to the default."""
        self._values.pop(_known(name).name, None)

    def changed(self) -> dict[str, SettingValue]:
        """Return what differs from the defaults."""
        return {n: v for n, v in self._values.items() if v != BY_NAME[n].default}


def _known(name: str) -> Setting:
    if name not in BY_NAME:
        raise SketcherError("settings", f"no setting named '{name}'")
    return BY_NAME[name]


def load_settings(path: Path) -> tuple[Settings, tuple[str, ...]]:
    """Read a settings file; return the settings and what could not be used, a sentence each.

    A missing file gives the defaults. One bad entry never costs the others.
    """
    settings, said = Settings(), []
    try:
        with path.open("rb") as file:
            raw = file.read(MAX_BYTES + 1)
        if len(raw) > MAX_BYTES:
            raise ValueError("the file is too large")
        found = json.loads(raw)
        if not isinstance(found, dict):
            raise ValueError("the file does not hold an object")
    except FileNotFoundError:
        return settings, ()
    except (OSError, ValueError, RecursionError) as error:
        return settings, (f"{path.name} could not be read ({error}); the defaults are used",)
    for name, value in found.items():
        try:
            settings[name] = value
        except SketcherError as error:
            said.append(str(error))
    return settings, tuple(said)


def save_settings(settings: Settings, path: Path) -> None:
    """Write what differs from the defaults; the old file stays whole until the new one is.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    text = json.dumps(settings.changed(), indent=1, sort_keys=True) + "\n"
    write_whole(path, text)


def write_whole(path: Path, text: str) -> None:
    """Write a small text file in one go: beside the old one first, then in its place."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(str(path), f"cannot be written ({error.strerror})") from error
    write_bytes(path, text.encode("utf-8"))
