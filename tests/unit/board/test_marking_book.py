"""The book of a class: marked, marked anew, ruled upon, kept in a file, exported."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from sketcher.board.board import Board
from sketcher.board.files import marking_export
from sketcher.board.files.marking_book import ClassBook, LayerRow
from sketcher.board.files.marking_copies import MarkingCopies
from sketcher.board.files.marking_job import class_sheets
from sketcher.board.files.marking_words import (
    book_state,
    cell_words,
    going_words,
    points_words,
    remarks,
)
from sketcher.errors import FileError
from sketcher.marking.asked_layers import AskedLayer
from sketcher.marking.class_run import ClassProgress
from sketcher.marking.hand_in import LayerQuestion
from sketcher.marking.mark_tables import deductions_table, marks_table
from sketcher.marking.marking_file import load_marking
from sketcher.marking.marks import PointsByHand
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import RuleSetting
from sketcher.part.store import load
from sketcher.part.value import frozen
from tests import read_back
from tests.hosts import AnsweringHost
from tests.marked_class import (
    COPY,
    GAP,
    MISSING,
    TORN,
    TWO,
    WRONG,
    class_on_disk,
    few_rules,
    run_here,
)

BASE = 100.0


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return class_on_disk(tmp_path_factory.mktemp("class"))


@pytest.fixture(scope="module")
def compared(home: Path) -> ClassBook:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sketcher.board.files.marking_job.run_class", run_here)
        book = chosen(home)
        book.said = []
        book._heard = lambda: book.said.append(book_state(book, names=False))
        book.begin()
    return book


@pytest.fixture
def book(home: Path, compared: ClassBook) -> ClassBook:
    """The class as it was compared, and nothing said of it."""
    made = chosen(home)
    made.take(compared.compared)
    return made


def pdf_text(data: bytes) -> str:
    """Return all that a PDF says, as another library reads it."""
    return " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(data))


def chosen(home: Path) -> ClassBook:
    made = ClassBook(Board(), lambda: None)
    made.use_key(home / "key.profile.json")
    made.use_folder(home / "hand-ins")
    made.use_roster(home / "roster.csv")
    made.use_rubric(few_rules())
    return made


def test_an_empty_book_says_what_to_choose_first(home: Path) -> None:
    book = ClassBook(Board(), lambda: None)
    assert book_state(book, names=True) == "Choose the key: the part as the paper has it."
    book.board.load(load(home / "key.profile.json"), None)
    assert "folder of the hand-ins" in book_state(book, names=True)
    book.begin()
    assert not book.going
    assert not book.is_changed


def test_the_class_tells_how_far_it_is_and_what_it_came_to(compared: ClassBook) -> None:
    assert "Reading the key and the folder ..." in compared.said
    assert "1 of 6 compared, 5 s left: 02" in compared.said
    assert compared.said[-1].startswith("5 of 6 hand-ins marked; mean 95.4, median 95;")
    assert "2 look like copies" in compared.said[-1]


def test_points_are_those_of_what_was_planted(book: ClassBook) -> None:
    given = [row.marks.points for row in book.rows]
    assert given[WRONG] == BASE - 4
    assert given[GAP] == given[COPY] == given[MISSING] == BASE - 5
    assert given[TWO] == BASE - 4
    assert book.rows[TORN].marks.ungraded
    assert cell_words(book.rows[GAP], "open-gap") == "5"
    assert cell_words(book.rows[GAP], "stray") == ""
    told = remarks(book.rows[GAP])
    assert any("Looks like a copy, nothing taken off: 09:" in each for each in told)


def test_it_is_told_whose_values_a_hand_in_has(book: ClassBook, compared: ClassBook) -> None:
    of_another = replace(compared.compared.marked[WRONG], values_of="05")
    book.take(replace(compared.compared, marked=(
        *compared.compared.marked[:WRONG], of_another, *compared.compared.marked[WRONG + 1:])))
    told = [remarks(row)[0] for row in book.rows if remarks(row)]
    assert "? It has the values of number 05." in told


def test_a_waived_deduction_costs_nothing_and_once_more_takes_it_back(book: ClassBook) -> None:
    row = book.rows[GAP]
    book.say(GAP, row.marks.deductions[0], "waived", comment="agreed in class")
    assert book.rows[GAP].marks.points == BASE
    assert cell_words(book.rows[GAP], "open-gap") == "0*"
    assert book.rows[GAP].verdicts == ("waived",)
    assert book.rows[GAP].marks.deductions[0].comment == "agreed in class"
    assert book.is_changed
    book.say(GAP, book.rows[GAP].marks.deductions[0], "open", comment="")
    assert book.rows[GAP].marks == row.marks
    assert book.rows[GAP].rulings == ()


def test_what_is_changed_by_hand_stays_when_the_rubric_changes(book: ClassBook) -> None:
    book.say(TWO, book.rows[TWO].marks.deductions[0], points=1.5)
    settings = {**book.rubric.settings, "doubled": RuleSetting(6, 6),
                "construction-left": RuleSetting(3, 9)}
    book.use_rubric(replace(book.rubric, settings=frozen(settings)))
    assert not book.out_of_date  # no comparing is asked for
    assert {d.rule: d.points for d in book.rows[TWO].marks.deductions} == {
        "doubled": 1.5, "construction-left": 3.0}
    settings["doubled"] = RuleSetting(6, 6, on=False)
    book.use_rubric(replace(book.rubric, settings=frozen(settings)))
    assert [d.rule for d in book.rows[TWO].marks.deductions] == ["construction-left"]
    book.use_rubric(few_rules())
    assert book.rows[TWO].marks.points == BASE - 1.5 - 2.0


def test_a_limit_or_another_roster_asks_for_comparing_anew(book: ClassBook, home: Path) -> None:
    book.use_rubric(replace(book.rubric, tolerance=0.5))
    assert book.out_of_date
    assert "Mark again" in book_state(book, names=True)
    book.use_rubric(replace(book.rubric, tolerance=None))
    assert not book.out_of_date
    book.use_roster(None)
    assert book.out_of_date


def test_a_layer_is_asked_about_once_and_its_answer_asks_for_comparing_anew(
    book: ClassBook, compared: ClassBook
) -> None:
    asked = LayerQuestion("Plan", "outline", 3, "its lines close")
    marked = tuple(replace(one, questions=(asked,) * (number < 3))
                   for number, one in enumerate(compared.compared.marked))
    book.take(replace(compared.compared, marked=marked))
    assert book.layers() == (LayerRow("Plan", AskedLayer("Plan", "outline", 3, "its lines close")),)
    assert book_state(book, names=True).endswith("Asked under Class: what 1 layer is for.")
    book.use_rubric(replace(book.rubric, layers=frozen({"plan": "center"})))
    assert book.layers()[0].answer == "center"
    assert book.out_of_date


def test_a_marking_is_taken_up_on_another_day(
    book: ClassBook, compared: ClassBook, tmp_path: Path
) -> None:
    book.say(WRONG, book.rows[WRONG].marks.deductions[0], "accepted", comment="see 3")
    book.keep_comment("See the paper.")
    book.save(tmp_path / "7b.marking.json")
    assert not book.is_changed
    again = ClassBook(Board(), lambda: None)
    again.open_marking(tmp_path / "7b.marking.json")
    assert (again.key, again.folder, again.roster) == (book.key, book.folder, book.roster)
    assert again.rubric.comments == ("See the paper.",)
    again.take(compared.compared)
    assert again.rows[WRONG].verdicts == ("accepted",)
    assert again.rows[WRONG].marks.deductions[0].comment == "see 3"
    assert not again.is_changed


def test_points_by_hand_stand_beside_the_rules_and_are_kept(
    book: ClassBook, compared: ClassBook, tmp_path: Path
) -> None:
    book.save(tmp_path / "7b.marking.json")
    book.give(GAP, PointsByHand(-3, "a day late"))
    book.give(GAP, PointsByHand(1.5, "neat"))
    assert book.rows[GAP].marks.points == BASE - 5 - 3 + 1.5
    book.give(GAP, PointsByHand(-2, "a day late"), 0)
    book.give(TORN, PointsByHand(60, "read from the print"))
    assert book.rows[TORN].marks.points == 60
    assert points_words(book.rows[TORN]) == "60 of 100*"
    assert book_state(book, names=True).startswith("6 of 6 hand-ins marked")
    table = marks_table(book.as_marked()).decode("utf-8-sig").splitlines()
    assert ",94.5,100,1,," in table[1 + GAP]
    assert ",60,100,,is not a readable DXF" in table[1 + TORN]
    rows = deductions_table(book.as_marked()).decode("utf-8-sig").splitlines()
    assert [row.partition(",")[2] for row in rows if ",by-hand," in row] == [
        "by-hand,2,1,,,,,a day late", "by-hand,-1.5,1,,,,,neat",
        "by-hand,-60,1,,,,,read from the print"]
    some = tuple(book.as_marked()[number] for number in (GAP, TORN))
    sheets, _ = class_sheets(replace(compared.compared, marked=some, alike=()), book.rubric, True)
    assert all(word in pdf_text(sheets[0]) for word in ("94.5 of 100", "a day late", "neat"))
    assert all(word in pdf_text(sheets[1]) for word in ("60 of 100", "read from the print"))
    again = ClassBook(Board(), lambda: None)
    again.open_marking(tmp_path / "7b.marking.json")
    again.take(compared.compared)
    assert again.rows[GAP].marks == book.rows[GAP].marks
    again.give(TORN, None, 0)
    assert points_words(again.rows[TORN]) == "! not marked"


def test_each_ruling_is_on_the_disk_at_once(
    book: ClassBook, compared: ClassBook, tmp_path: Path
) -> None:
    def said(path: Path) -> list[str]:
        return [each.verdict for rulings in load_marking(path).rulings.values()
                for each in rulings]

    book.copies = MarkingCopies(tmp_path / "copies")
    book.say(GAP, book.rows[GAP].marks.deductions[0], "waived")
    (copy,) = (tmp_path / "copies").iterdir()
    assert said(copy) == ["waived"]
    next_day = ClassBook(Board(), lambda: None, MarkingCopies(tmp_path / "copies"))
    next_day.use_folder(book.folder)
    next_day.take_up_left_behind()
    next_day.take(compared.compared)
    assert next_day.rows[GAP].verdicts == ("waived",)
    path = tmp_path / "7b.marking.json"
    next_day.save(path)
    assert not copy.exists()
    next_day.say(WRONG, next_day.rows[WRONG].marks.deductions[0], "accepted")
    assert sorted(said(path)) == ["accepted", "waived"]
    assert not next_day.is_changed
    next_day.path = tmp_path / "gone" / "7b.marking.json"
    next_day.say(TWO, next_day.rows[TWO].marks.deductions[0], "accepted")
    assert book_state(next_day, names=True).startswith("! What is ruled could not be kept.")
    assert next_day.is_changed


def test_a_copy_that_was_not_taken_up_outlives_another_marking_of_its_folder(
    book: ClassBook, compared: ClassBook, tmp_path: Path
) -> None:
    copies = MarkingCopies(tmp_path / "copies")
    saved = tmp_path / "7b.marking.json"
    book.save(saved)
    crashed = ClassBook(Board(), lambda: None, copies)
    crashed.use_folder(book.folder)
    crashed.take(compared.compared)
    crashed.say(GAP, crashed.rows[GAP].marks.deductions[0], "waived")
    other = ClassBook(Board(), lambda: None, copies)
    other.open_marking(saved)
    other.forget_copy()
    assert copies.left_behind(book.folder) is not None
    crashed.use_folder(tmp_path)
    crashed.forget_copy()
    assert copies.left_behind(book.folder) is None


def test_each_number_has_its_key_and_what_fits_none_is_shown_alone(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sketcher.board.files.marking_job.run_class", run_here)
    (tmp_path / "in").mkdir()
    shutil.copy(next((home / "hand-ins").glob("02-*")), tmp_path / "in" / "02.dxf")
    shutil.copy(tmp_path / "in" / "02.dxf", tmp_path / "in" / "05.dxf")
    drawing = ezdxf.new()
    drawing.modelspace().add_lwpolyline([(0, 0), (900, 0), (40, 700)], close=True)
    drawing.saveas(tmp_path / "in" / "02-other.dxf")
    (home / "variants.csv").write_text(
        "number,key,variant\n02,key.profile.json,V7Q\n03,key.profile.json,K2M\n")
    book = ClassBook(Board(), lambda: None)
    book.use_variants(home / "variants.csv")
    book.use_folder(tmp_path / "in")
    book.use_rubric(few_rules())
    book.begin()
    odd, keyed, unkeyed = book.rows
    assert keyed.marks.points == BASE - 4
    assert odd.marks.ungraded
    assert (odd.view.key, len(odd.view.outline)) == ((), 3)
    assert unkeyed.marks.ungraded == "its number has no key"
    assert remarks(unkeyed)[-1] == "? Its number does not stand in the roster."
    assert [each.number for each in book.compared.listed.absent] == ["03"]
    sheets, _ = class_sheets(book.compared, book.rubric, True)
    assert "The hand-in as its file has it" in pdf_text(sheets[0])
    assert ["V7Q" in pdf_text(each) for each in sheets] == [True, True, False]
    assert book.lacks == ""
    book.save(tmp_path / "v.marking.json")
    assert load_marking(tmp_path / "v.marking.json").variants == home / "variants.csv"


def test_what_is_no_marking_changes_nothing(book: ClassBook, tmp_path: Path) -> None:
    (tmp_path / "x.marking.json").write_text("{}")
    rows = book.rows
    with pytest.raises(FileError, match=r"x\.marking\.json: format"):
        book.open_marking(tmp_path / "x.marking.json")
    assert book.rows is rows


def test_a_part_that_is_no_key_is_told(home: Path) -> None:
    book = ClassBook(Board(), lambda: None)
    loose = load(home / "key.profile.json")
    book.board.load(loose.having(bindings=dict(list(loose.bindings.items())[1:])), None)
    book.use_folder(home / "hand-ins")
    book.begin()
    assert "is no key: something is loose" in book.trouble
    assert book_state(book, names=True).startswith("! the part")


def test_results_are_exported_by_number_alone_where_names_are_not_wanted(
    book: ClassBook, tmp_path: Path
) -> None:
    host = AnsweringHost(folder=tmp_path / "out")
    book.say(GAP, book.rows[GAP].marks.deductions[0], "waived")
    book.say(WRONG, book.rows[WRONG].marks.deductions[0], comment="Measure twice")
    said = marking_export.export_class(book, host, names=False)
    assert "6 marked sheets" in said
    out = tmp_path / "out"
    lines = read_back.rows(out / "marks.csv")
    points = {line["number"]: line["points"] for line in lines}
    assert points["04"] == "100"
    assert points["02"] == "96"
    told = read_back.rows(out / "deductions.csv")
    assert "04.dxf" not in {line["file"] for line in told}  # nothing is left of it
    assert next(line["text"] for line in told if line["file"] == "02.dxf").endswith(
        "Ø22, not Ø20. Measure twice")
    assert all(line["name"] == "" for line in lines)
    sheets = sorted(path.name for path in out.glob("*.marked.pdf"))
    assert sheets == ["02.marked.pdf", "04.marked.pdf", "06.marked.pdf", "08.marked.pdf",
                      "09.marked.pdf", "12.marked.pdf"]
    assert all(path.read_bytes().startswith(b"%PDF") for path in out.glob("*.pdf"))
    host.sure = False
    assert marking_export.export_class(book, host, names=False) == ""
    assert host.calls[-1][0] == "confirm"
    assert "marks.csv, deductions.csv, class.pdf" in host.calls[-1][1]


def test_a_folder_of_hand_ins_takes_no_results(book: ClassBook, home: Path) -> None:
    with pytest.raises(FileError, match="folder of the hand-ins"):
        marking_export.export_class(book, AnsweringHost(folder=home / "hand-ins"), names=True)


def test_before_the_first_hand_in_is_done_nothing_is_known_of_the_time() -> None:
    assert going_words(None, names=True) == "Reading the key and the folder ..."
    first = ClassProgress(1, 6, ClassEntry("02"), None)
    assert going_words(first, names=True) == "1 of 6 compared: 02"


def test_a_long_wait_is_told_in_minutes() -> None:
    for seconds, told in ((89.0, "89 s"), (180.0, "3 min")):
        so_far = ClassProgress(1, 6, ClassEntry("02"), seconds)
        assert going_words(so_far, names=True) == f"1 of 6 compared, {told} left: 02"
