"""The desktop's clipboard by media type, and where on the sheet something pasted goes."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QByteArray, QMimeData
from PySide6.QtGui import QCursor, QGuiApplication

from sketcher.board.files.clipboard import TEXT
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.curves import XY


def fill(contents: Mapping[str, bytes]) -> None:
    """Put contents on the clipboard, each under its media type."""
    data = QMimeData()
    for media, content in contents.items():
        if media == TEXT:  # in the form that each desktop has for text
            data.setText(content.decode())
        else:
            data.setData(media, QByteArray(content))
    QGuiApplication.clipboard().setMimeData(data)


def held(media: str) -> bytes | None:
    """Return what the clipboard holds of a media type; None where it holds none."""
    data = QGuiApplication.clipboard().mimeData()
    if data is None or not data.hasFormat(media):
        return None
    return bytes(data.data(media).data())


def pointed_at(view: SceneView) -> XY:
    """Return the keyboard's pointer, else the mouse where it is over the sheet, else the middle."""
    sheet = view.sheet
    if sheet.cursor is not None:
        return sheet.cursor
    at = view.viewport().mapFromGlobal(QCursor.pos())
    if view.viewport().rect().contains(at) and view.viewport().underMouse():
        return sheet.camera.to_part((float(at.x()), float(at.y())))
    return sheet.camera.center
