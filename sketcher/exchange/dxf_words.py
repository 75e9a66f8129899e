"""What is written in a DXF: texts, and the numbers of dimensions, as hints."""

from __future__ import annotations

import re
from math import isfinite
from typing import Any

from sketcher.exchange.dxf_content import FileWords

ANGULAR = frozenset({2, 5})
"""Types of DIMENSION that measure degrees (DXF reference, group code 70)."""
CONTROL = re.compile(r"\\[A-Za-z][^;\\{}]*;|[{}]|\\[LlOoKk]")
"""Marks of a text in several fonts or heights, which a dimension's text may hold as well."""
STACKED = re.compile(r"\\S([^;^\x23/]*)([\^\x23/])([^;]*);")
"""Marks of what stands one above the other: tolerances, fractions."""
SPOKEN = {f"%%{letter}": sign for low, sign in (("c", "Ø"), ("d", "°"), ("p", "±"))
          for letter in (low, low.upper())}
"""Codes of signs in a text (DXF reference)."""
NUMBER = re.compile(r"(?<![\w.])[-+]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?![\w.])")
SIGNS = re.compile(r"^(?:\d+\s*[xX×]\s*)?(?:%%[cC]|[ØøR⌀∅])?")


def words_of(entity: Any, number: int = 0, layer: str = "0") -> FileWords | None:
    """Return what an entity says, or None where it says nothing."""
    kind = entity.dxftype()
    if kind == "DIMENSION":
        return _dimension(entity, number, layer)
    if kind in ("MULTILEADER", "MLEADER"):
        text = plain(str(entity.get_mtext_content()))
        put = entity.context.mtext
        if not text or put is None:
            return None
        return FileWords(text, (float(put.insert.x), float(put.insert.y)), "text", _number(text),
                         number, layer, float(entity.context.char_height))
    if kind not in ("TEXT", "MTEXT", "ATTRIB"):
        return None
    text = str(entity.plain_text()).strip()
    if not text:
        return None
    at = entity.dxf.get("insert", (0.0, 0.0, 0.0))
    height = entity.dxf.get("char_height" if kind == "MTEXT" else "height", 0.0)
    turn = entity.get_rotation() if kind == "MTEXT" else entity.dxf.get("rotation", 0.0)
    return FileWords(text, (float(at[0]), float(at[1])), "text", _number(text), number, layer,
                     float(height) or None, float(turn))


def plain(text: str) -> str:
    """Return a text without the marks of fonts, heights, paragraphs and signs."""
    from ezdxf.lldxf.encoding import decode_dxf_unicode, has_dxf_unicode

    if has_dxf_unicode(text):
        text = decode_dxf_unicode(text)
    for code, sign in SPOKEN.items():
        text = text.replace(code, sign)
    stacked = STACKED.sub(lambda m: f"{m[1]}{' ' if m[2] == '^' else '/'}{m[3]}", text)
    return CONTROL.sub("", stacked.replace("\\P", " ").replace("\\~", " ")).strip()


def _dimension(entity: Any, number: int, layer: str) -> FileWords | None:
    """Take the number that is typed over a dimension, else what it measures; no angles."""
    typed = CONTROL.sub("", str(entity.dxf.get("text", ""))).strip()
    measured = _measured(entity)
    value = measured if typed in ("", "<>") or "<>" in typed else _number(typed)
    if int(entity.dimtype) in ANGULAR:
        value = None
    text = typed.replace("<>", f"{measured:.6g}" if measured is not None else "").strip()
    at = entity.dxf.get("text_midpoint") or entity.dxf.get("defpoint") or (0.0, 0.0, 0.0)
    said = text or (f"{measured:.6g}" if measured is not None else "")
    return FileWords(said, (float(at[0]), float(at[1])), "dimension", value, number,
                     layer) if said else None


def _measured(entity: Any) -> float | None:
    measured = entity.dxf.get("actual_measurement")
    if measured is None:
        try:
            measured = entity.get_measurement()
        except (TypeError, ValueError, AttributeError, ArithmeticError, LookupError):
            return None
    if not isinstance(measured, int | float) or not isfinite(measured):
        return None
    return float(measured)


def _number(text: str) -> float | None:
    """Return the one number of a text, as ``25``, ``R4.5`` or ``2x Ø9``; None where it is more."""
    bare = SIGNS.sub("", text.strip())
    found = NUMBER.findall(bare)
    if len(found) != 1 or not re.fullmatch(NUMBER.pattern + r"\s*(?:mm|in|\"|″)?", bare):
        return None
    return float(found[0].replace(",", "."))
