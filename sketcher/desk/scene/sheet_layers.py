"""What the sheet is painted of, from its ground up to the preview."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QGraphicsScene

from sketcher.desk.scene.center_layer import CenterLayer
from sketcher.desk.scene.curve_layer import CurveLayer
from sketcher.desk.scene.dims_layer import DimsLayer
from sketcher.desk.scene.fill_layer import FillLayer
from sketcher.desk.scene.ground import GroundLayer
from sketcher.desk.scene.layer import Layer
from sketcher.desk.scene.loupe import LoupeLayer
from sketcher.desk.scene.preview_layer import PreviewLayer
from sketcher.desk.scene.scene_state import SceneState
from sketcher.desk.scene.sign_layer import SignLayer


def sheet_layers(
    sheet: SceneState, update: Callable[[], None]
) -> tuple[tuple[Layer, ...], LoupeLayer]:
    """Return the layers, the lowest first, and the magnifying glass that lies over them."""
    return (
        GroundLayer(sheet, 0.0),
        FillLayer(sheet, 0.5),
        DimsLayer(sheet, 0.8, update),
        CurveLayer(sheet, 1.0, ("layout", "axis")),
        CenterLayer(sheet, 1.5),
        CurveLayer(sheet, 2.0, ("outline",)),
        SignLayer(sheet, 4.0),
        PreviewLayer(sheet, 5.0),
    ), LoupeLayer(sheet, 6.0)


def scene_of(layers: tuple[Layer, ...], loupe: LoupeLayer, scene: QGraphicsScene) -> QGraphicsScene:
    """Put the layers into a scene; nothing is looked for in it, so it needs no index."""
    scene.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
    for layer in (loupe, *layers):
        scene.addItem(layer)
    return scene
