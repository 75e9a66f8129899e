"""Dress the program in one of the two looks: Fusion style, our palette, one short style sheet."""

from __future__ import annotations

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication, QStyleFactory

from sketcher.desk.looks import LOOKS, Look
from sketcher.shipped import shipped

FACES = ("SourceSansPro", "SourceSansProSemibold")
FAMILY = "Source Sans Pro"


def load_font() -> str:
    """Load the program's own font and return its family; the system's where it is missing.

    The very files of the printed page: of two files of a family the last one loaded is drawn,
    so the words of the desk would change their weight once a page was seen.
    """
    import font_source_sans_pro as package

    for face in FACES:
        QFontDatabase.addApplicationFont(package.font_files_ttf[face])
    return FAMILY if FAMILY in QFontDatabase.families() else QFont().family()


def digits_font(font: QFont) -> QFont:
    """Return `font` with figures of one width, so that changing digits do not dance."""
    steady = QFont(font)
    steady.setFeature(QFont.Tag("tnum"), 1)
    return steady


def palette(look: Look) -> QPalette:
    """Return the palette of a look for every role that the widgets use."""
    chosen = QPalette()
    roles = QPalette.ColorRole
    colours = {
        roles.Window: look.pane, roles.WindowText: look.text,
        roles.Base: look.field, roles.AlternateBase: look.pane, roles.Text: look.text,
        roles.Button: look.raised, roles.ButtonText: look.text, roles.BrightText: look.bad,
        roles.Highlight: look.chosen, roles.HighlightedText: look.chosen_text,
        roles.ToolTipBase: look.card, roles.ToolTipText: look.card_text,
        roles.PlaceholderText: look.faint, roles.Link: look.focus, roles.LinkVisited: look.focus,
        roles.Light: look.raised, roles.Midlight: look.raised, roles.Mid: look.edge,
        roles.Dark: look.edge, roles.Shadow: look.field,
    }
    for role, colour in colours.items():
        chosen.setColor(role, QColor(colour))
    for role in (roles.Text, roles.WindowText, roles.ButtonText):
        chosen.setColor(QPalette.ColorGroup.Disabled, role, QColor(look.idle))
    return chosen


def _ticks(look: Look) -> str:
    """Return the rules of tick boxes: on a dark ground the style's own frame is not to be seen.

    The tick's colour stands out from the fields of both looks.
    """
    tick = str(shipped("resources", "icons/tick.svg")).replace("\\", "/")
    boxes = ("QCheckBox::indicator", "QAbstractItemView::indicator")
    return "".join(f"""
    {box} {{ width: 12px; height: 12px; border: 1px solid {look.edge}; border-radius: 2px;
        background: {look.field}; }}
    {box}:checked {{ image: url("{tick}"); }}
    {box}:disabled {{ border-color: {look.raised}; }}
    """ for box in boxes) + f"QCheckBox:focus {{ color: {look.focus}; }}"


def style_sheet(look: Look) -> str:
    """Return the few rules that a palette cannot say: focus rings, headers, verdict, digits."""
    return _ticks(look) + f"""
    QToolTip {{ background: {look.card}; color: {look.card_text}; border: 1px solid {look.edge};
        padding: 4px; }}
    QHeaderView::section {{ background: {look.raised}; color: {look.text}; border: 0;
        border-right: 1px solid {look.pane}; padding: 2px 1px; }}
    QTableView, QTreeView {{ gridline-color: {look.raised}; border: 1px solid {look.raised}; }}
    QTableView[follows="true"] {{ selection-background-color: {look.raised};
        selection-color: {look.text}; }}
    QTableView:focus, QTreeView:focus {{ border: 1px solid {look.focus}; }}
    #focus_mark {{ background: {look.focus}; }}
    QLineEdit, QComboBox, QPlainTextEdit {{ border: 1px solid {look.edge};
        border-radius: 2px; padding: 1px 3px; background: {look.field}; color: {look.text}; }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{ padding: 0 2px;
        border: 2px solid {look.focus}; }}
    QLineEdit[wrong="true"] {{ border: 2px solid {look.bad}; }}
    QToolButton {{ border: 1px solid transparent; border-bottom: 3px solid transparent;
        border-radius: 3px; padding: 2px 2px 0 2px; }}
    QToolButton:hover {{ background: {look.raised}; }}
    QToolButton:focus {{ border: 2px solid {look.focus}; border-bottom: 3px solid {look.focus};
        padding: 1px 1px 0 1px; }}
    QToolButton:checked {{ background: {look.chosen}; color: {look.chosen_text};
        border-bottom: 3px solid {look.focus}; }}
    QToolButton:disabled {{ color: {look.idle}; }}
    QPushButton {{ background: {look.raised}; border: 1px solid {look.edge}; border-radius: 3px;
        padding: 3px 10px; }}
    QPushButton:focus {{ border: 2px solid {look.focus}; padding: 2px 9px; }}
    QPushButton:hover {{ border-color: {look.focus}; }}
    QPushButton:disabled {{ color: {look.idle}; border-color: {look.raised}; }}
    QPushButton#worst {{ background: transparent; border-color: transparent; color: {look.bad};
        padding: 1px 3px; text-align: left; }}
    QPushButton#worst:focus {{ border: 2px solid {look.focus}; padding: 0 2px; }}
    QPushButton#worst:hover {{ border-color: {look.focus}; }}
    QSplitter::handle {{ background: {look.raised}; }}
    QMenuBar, QStatusBar {{ background: {look.pane}; color: {look.text}; }}
    QMenuBar::item:selected, QMenu::item:selected {{ background: {look.chosen};
        color: {look.chosen_text}; }}
    QMenu {{ background: {look.pane}; color: {look.text}; border: 1px solid {look.edge}; }}
    QMenu::separator {{ height: 1px; background: {look.edge}; margin: 4px 8px; }}
    QMenu::item:disabled {{ color: {look.idle}; }}
    QLabel#verdict[sound="true"] {{ color: {look.good}; }}
    QLabel#verdict[sound="false"] {{ color: {look.bad}; }}
    QLabel#reason {{ color: {look.bad}; }}
    QLabel#faint {{ color: {look.faint}; }}
    """ + _digits(look)


def _digits(look: Look) -> str:
    """Return the rules of the readout."""
    return f"""
    #readout {{ background: {look.digits_ground}; }}
    #readout QLabel {{ color: {look.digits}; }}
    #readout QLabel:disabled {{ color: {look.idle}; }}
    #readout QPushButton {{ background: transparent; border: 1px solid {look.digits_edge};
        color: {look.digits}; text-align: right; padding: 0 6px; }}
    #readout QPushButton:hover, #readout QPushButton:focus,
    #readout QPushButton[lit="true"] {{ border: 2px solid {look.held}; padding: 0 5px; }}
    #readout QPushButton[held="true"] {{ color: {look.held}; }}
    #readout QPushButton:disabled {{ border: 1px solid {look.digits_edge}; }}
    #readout QToolButton:hover {{ background: {look.digits_ground}; }}
    #readout QToolButton {{ color: {look.digits}; border: 1px solid {look.digits_edge};
        padding: 6px 10px; }}
    #readout QToolButton:hover, #readout QToolButton:focus {{ border: 2px solid {look.held};
        padding: 5px 9px; }}
    #readout QToolButton#free {{ border: none; padding: 0; }}
    #readout QToolButton#free:hover {{ border: 1px solid {look.held}; }}
    #readout WayKeys QToolButton {{ padding: 1px 8px; }}
    #readout WayKeys QToolButton:hover, #readout WayKeys QToolButton:checked {{ padding: 0 7px; }}
    #readout_keys[narrow="true"] QToolButton {{ padding: 1px 7px; }}
    #readout_keys[narrow="true"] QToolButton:hover,
    #readout_keys[narrow="true"] QToolButton:focus {{ padding: 0 6px; }}
    #readout QToolButton:disabled {{ color: {look.idle}; }}
    #readout QToolButton:checked {{ color: {look.held}; border: 2px solid {look.held};
        background: transparent; padding: 5px 9px; }}
    #readout_keys QToolButton:checked {{ background: {look.digits_ground};
        border: 1px solid {look.digits_edge}; padding: 6px 10px; }}
    #readout_keys QToolButton:checked:hover, #readout_keys QToolButton:checked:focus {{
        border: 2px solid {look.held}; padding: 5px 9px; }}
    #readout_keys[narrow="true"] QToolButton:checked {{ padding: 1px 7px; }}
    #readout_keys[narrow="true"] QToolButton:checked:hover,
    #readout_keys[narrow="true"] QToolButton:checked:focus {{ padding: 0 6px; }}
    #readout QLineEdit {{ background: {look.digits_ground}; color: {look.digits}; }}
    """


def dress(app: QApplication, look_name: str, family: str) -> Look:
    """Set style, palette, font and sheet of the whole program; return the look."""
    look = LOOKS.get(look_name, LOOKS["dye"])
    app.setStyle(QStyleFactory.create("Fusion"))
    app.setPalette(palette(look))
    font = QFont(family)
    size = app.font().pointSizeF()
    font.setPointSizeF(max(size, 10.0))
    app.setFont(font)
    app.setStyleSheet(style_sheet(look))
    return look
