"""The table of settings, the recent files, and small views of the part."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.freedom_arrows import motions
from sketcher.board.dimensions.sign_places import glyphs
from sketcher.board.files.recent_files import Recent, load_recent, save_recent
from sketcher.board.places.zero import Zero, zero_point
from sketcher.board.settings import TABLE, Settings, load_settings, save_settings
from sketcher.errors import FileError, SketcherError
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def test_every_setting_has_a_label_help_and_a_default_that_fits() -> None:
    assert len({setting.name for setting in TABLE}) == len(TABLE)
    for setting in TABLE:
        assert setting.label
        assert len(setting.help) > 8
        assert setting.checked(setting.default) == setting.default


@pytest.mark.parametrize(("name", "value"), [
    ("look", "plaid"), ("reach", 2), ("reach", 5.5), ("snaps", 1), ("snap_direction", True),
    ("snap_direction", 99.0), ("nothing", 1), ("mm_places", "three"),
])
def test_values_that_do_not_fit_are_refused(name: str, value: object) -> None:
    settings = Settings()
    with pytest.raises(SketcherError, match="settings"):
        settings[name] = value
    assert settings.changed() == {}


def test_settings_come_back_from_their_file(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.json"
    settings = Settings({"look": "paper", "reach": 12, "snap_direction": 4.5})
    save_settings(settings, path)
    found, said = load_settings(path)
    assert said == ()
    assert found.changed() == settings.changed()
    found.reset("look")
    assert found["look"] == "dye"


def test_one_bad_entry_does_not_cost_the_others(tmp_path: Path) -> None:
    path = tmp_path / "settings.json"
    path.write_text('{"look": "paper", "reach": "wide", "old": 3}', encoding="utf-8")
    found, said = load_settings(path)
    assert found["look"] == "paper"
    assert len(said) == 2
    path.write_text("[[[", encoding="utf-8")
    assert load_settings(path)[1] != ()
    assert load_settings(tmp_path / "none.json")[1] == ()


def test_a_folder_that_cannot_be_written_is_one_error(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("x", encoding="utf-8")
    with pytest.raises(FileError):
        save_settings(Settings({"look": "paper"}), blocked / "settings.json")


def test_recent_files_newest_first_each_once(tmp_path: Path) -> None:
    recent = Recent()
    for name in ("a", "b", "a", "c"):
        recent = recent.opened(tmp_path / name, most=2)
    assert [Path(p).name for p in recent.paths] == ["c", "a"]
    (tmp_path / "a").write_text("", encoding="utf-8")
    assert [Path(p).name for p in recent.there()] == ["a"]
    assert [Path(p).name for p in recent.without(tmp_path / "c").paths] == ["a"]
    save_recent(recent, tmp_path / "recent.json")
    assert load_recent(tmp_path / "recent.json") == recent
    (tmp_path / "recent.json").write_text("{", encoding="utf-8")
    assert load_recent(tmp_path / "recent.json") == Recent()


def test_pinned_files_stay_and_are_read_back(tmp_path: Path) -> None:
    recent = Recent()
    for name in ("a", "b", "c"):
        (tmp_path / name).write_text("", encoding="utf-8")
        recent = recent.opened(tmp_path / name)
    recent = recent.with_pin(str(tmp_path / "a"), True)
    assert [Path(p).name for p in recent.there()] == ["a", "c", "b"]
    assert [Path(p).name for p in recent.opened(tmp_path / "d", most=1).paths] == ["d", "a"]
    assert recent.with_pin("elsewhere", True) == recent  # only what is listed can be pinned
    place = tmp_path / "recent.json"
    save_recent(recent, place)
    assert load_recent(place) == recent
    assert recent.without(tmp_path / "a").pinned == recent.with_pin(recent.pinned[0], False).pinned
    place.write_text(json.dumps(["x", "y", 3]), encoding="utf-8")  # written before there were pins
    assert load_recent(place) == Recent(("x", "y"))


def loose_part() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (30, 0))
    draft.bind("fixed", ("p1",))
    draft.bind("level", ("e1",))
    draft.circle((10, 20), 5.0)
    draft.line("p2", (40, 20))
    draft.bind("square", ("e1", "e2"))
    draft.bind("middle", (draft.point((15, 0)), "e1"))
    return draft.done()


def test_motion_arrows_show_ways_and_free_radii() -> None:
    board = Board(loose_part())
    arrows = {motion.name: motion for motion in motions(board.part, board.report)}
    assert "p1" not in arrows
    assert len(arrows["p2"].ways) == 1
    assert abs(arrows["p2"].ways[0][0]) == pytest.approx(1.0)
    assert len(arrows["p3"].ways) == 2
    assert arrows["h1"].ways == ((1.0, 0.0),)
    assert arrows["h1"].at == pytest.approx((15, 20))


def test_signs_stand_beside_what_they_bind_and_not_on_each_other() -> None:
    board = Board(loose_part())
    found = glyphs(board.part, board.report)
    assert {g.kind for g in found} == {"fixed", "level", "square", "middle"}
    places = [tuple(round(c, 6) for c in g.place(0.1)) for g in found]
    assert len(places) == len(set(places))
    level = next(g for g in found if g.kind == "level")
    assert level.at == pytest.approx((0.5 * board.part.points["p2"][0], 0))
    square = next(g for g in found if g.kind == "square")
    assert square.at == pytest.approx(board.part.points["p2"])  # the shared end


def test_zero_follows_its_point() -> None:
    part = loose_part()
    zero = Zero((30, 0), "p2")
    assert zero.place(part) == part.points["p2"]
    assert zero_point(part, zero) == "p2"
    assert zero_point(part, Zero()) == "p1"
    assert zero_point(part, Zero((3, 3))) is None
    assert zero.living(Part()).point is None
