"""A host that answers as it was told to."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any


@dataclass
class AnsweringHost:
    """Stands in for the window: every question has its answer, every call is noted."""

    path: Path | None = None
    folder: Path | None = None
    text: str | None = None
    choice: int | None = 0
    form: dict[str, str] | None = None
    sure: bool = True
    reads: bool = True
    cut: dict[str, str] = field(default_factory=dict)
    unsaved: str = "discard"
    clips: dict[str, bytes] = field(default_factory=dict)
    place: tuple[float, float] = (0.0, 0.0)
    calls: list[tuple[str, Any]] = field(default_factory=list)

    def ask_path(
        self, title: str, save: bool, suffix: str, suggestion: str = ""
    ) -> Path | None:
        self.calls.append(("ask_path", suffix))
        return self.path

    def ask_folder(self, title: str) -> Path | None:
        self.calls.append(("ask_folder", title))
        return self.folder

    def ask_choice(self, title: str, label: str, choices: Sequence[str]) -> str | None:
        self.calls.append(("ask_choice", tuple(choices)))
        return None if self.choice is None else choices[self.choice]

    def ask_form(
        self, title: str, fields: Sequence[tuple[str, str, str]], caution: str = "",
        take: Callable[[dict[str, str]], object] | None = None, long: Collection[str] = (),
        follow: Callable[[dict[str, str]], Mapping[str, str]] | None = None,
    ) -> dict[str, str] | None:
        self.calls.append(("ask_form", tuple(name for name, _, _ in fields)))
        if self.form is None:
            return None
        values = {n: v for n, _, v in fields}
        for name, text in self.form.items():
            values[name] = text
            values |= follow(values) if follow is not None else {}
        if take is not None:
            take(values)
        return values

    def confirm(self, title: str, text: str, yes: str) -> bool:
        self.calls.append(("confirm", text))
        return self.sure

    def ask_despite(self, title: str, opening: str, findings: Sequence[str], yes: str) -> bool:
        self.calls.append(("ask_despite", tuple(findings)))
        return self.sure

    def ask_cutting(
        self, despite: Collection[str], take: Callable[[Mapping[str, str]], object]
    ) -> bool:
        self.calls.append(("ask_cutting", tuple(sorted(despite))))
        return self.reads and bool(take(self.cut))

    def ask_unsaved(self, name: str) -> str:
        self.calls.append(("ask_unsaved", name))
        return self.unsaved

    def tell(self, title: str, text: str) -> None:
        self.calls.append(("tell", text))

    def fill_clipboard(self, contents: Any) -> None:
        self.clips = dict(contents)

    def clipboard(self, media: str) -> bytes | None:
        return self.clips.get(media)

    def paste_place(self) -> tuple[float, float]:
        return self.place

    def fit_part(self) -> None:
        self.calls.append(("fit_part", None))

    def fit_selection(self) -> None:
        self.calls.append(("fit_selection", None))

    def zoom(self, factor: float) -> None:
        self.calls.append(("zoom", factor))

    def set_look(self, name: str) -> None:
        self.calls.append(("set_look", name))

    def show_dialog(self, name: str) -> None:
        self.calls.append(("show_dialog", name))

    def bring_in(self, path: Path) -> None:
        self.calls.append(("bring_in", path))

    def close(self) -> None:
        self.calls.append(("close", None))
