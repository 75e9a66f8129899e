"""What a layer is for by its name, in the languages and short forms that drawings have.

Common practice, no source: words of the trade for outlines, center lines, dimensions, construction
lines and what surrounds a drawing, as they stand in layer names. Hatching, hidden lines and other
views count with the sheet: no outline of a flat plate is drawn so.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from sketcher.marking.hand_in import LayerRole

ROLES: tuple[LayerRole, ...] = ("sheet", "dimension", "center", "construction", "outline")
"""The first that a name has a word of is it: a hole's center lines are center lines, and what
measures them measures."""

STEMS: Mapping[LayerRole, tuple[str, ...]] = MappingProxyType({
    "sheet": (
        "border", "rahmen", "title", "titel", "cartouche", "cajetin", "cartiglio", "schriftfeld",
        "blattrand", "hatch", "schraff", "hachur", "rayado", "arcering", "viewport", "stamp",
        "stempel", "revision", "partslist", "stuckliste", "nomenclat", "legend", "tabelle",
        "rotulo", "ramka", "ramecek", "tabliczka", "razitko", "hidden", "verdeckt", "unsichtbar",
        "cachee", "oculta", "nascost", "verborgen", "phantom", "рамка", "штамп", "图框", "标题",
        "標題", "図枠"),
    "dimension": (
        "dimens", "bemass", "bemas", "masslin", "cotation", "acota", "quotat", "maatlijn",
        "maatvoering", "wymiar", "annot", "beschrift", "lettering", "callout", "leader", "tolera",
        "extension", "text", "testo", "schrift", "размер", "尺寸", "寸法", "치수"),
    "center": (
        "center", "centre", "centro", "centrum", "mittel", "mitten", "symmetr", "simetr",
        "simmetr", "achse", "hartlijn", "middellijn", "senterlin", "midtlin", "keskiviiva",
        "stredov", "strichpunkt", "dashdot", "chainline", "осев", "центр", "中心", "중심"),
    "construction": (
        "constr", "konstr", "costruz", "hilf", "auxil", "ausil", "hulplijn", "pomoc", "hjalp",
        "hjelp", "apuviiva", "layout", "scribe", "guide", "defpoints", "scratch", "вспом", "辅助",
        "補助"),
    "outline": (
        "outline", "object", "visib", "contour", "kontur", "contorn", "profil", "umriss",
        "korperkant", "koerperkant", "sichtbar", "volllinie", "geometr", "bauteil", "werkstu",
        "sagoma", "pieza", "silhouet", "obrys", "krawed", "inside", "outside", "hole", "bohrung",
        "agujero", "cutting", "kante", "контур", "轮廓", "輪郭", "外形", "외형"),
})
"""Beginnings and parts of words, without accents."""

WORDS: Mapping[LayerRole, str] = MappingProxyType({
    "sheet": "tb ttl vp vport bord brdr frame sheet blatt format table hid hdn hat detail details"
             " section schnitt break logo cadre marco cornice kader",
    "dimension": "dim dims dm mass masse mase cote cotes cota cotas quota quote quotas maat maten"
                 " kota koty mal matt mitat txt note notes nota anno gdt ext",
    "center": "cl ctr cen cent cntr cline clines cln axe axes axis axial ax asse assi eje ejes eixo"
              " eixos os osy osi osa osie eksen mitte",
    "construction": "con cons aux help helper ref refs temp tmp ghost grid raster sketch",
    "outline": "out obj vis cut part plate main geo geom thick edge edges line lines solid foro"
               " fori trou trous teil piece hrany hrana body",
})
"""Whole words, and short forms of them."""

_WHOLE = {role: frozenset(words.split()) for role, words in WORDS.items()}


@lru_cache(maxsize=4096)
def named_role(layer: str) -> LayerRole | None:
    """Return what a layer is for by its name alone; None for a name that does not tell."""
    plain = "".join(each for each in unicodedata.normalize("NFKD", layer.replace("ß", "ss").lower())
                    if not unicodedata.combining(each))
    words = re.findall(r"[^\W\d_]+", plain)
    joined = "".join(words)
    for role in ROLES:
        if not _WHOLE[role].isdisjoint(words) or any(stem in joined for stem in STEMS[role]):
            return role
    return None
