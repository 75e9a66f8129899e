"""The status line: what comes next, what was said last, the state of the part."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QSizePolicy, QStatusBar


def status_labels(bar: QStatusBar) -> tuple[QLabel, QLabel, QLabel]:
    """Fill a status bar; return the labels for the prompt, the last message and the state."""
    prompt, said, state = QLabel(bar), QLabel(bar), QLabel(bar)
    # Their names are their words, for those who hear them.
    prompt.setAccessibleDescription("What comes next")
    said.setAccessibleDescription("What was said last")
    state.setAccessibleDescription("State of the part")
    for label in (prompt, said):
        # Two lines, and never a reason for the window to be wider than the screen.
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        label.setFixedHeight(2 * label.fontMetrics().lineSpacing() + 2)
    bar.setAccessibleName("Status")
    bar.setSizeGripEnabled(False)
    bar.setContentsMargins(8, 0, 8, 0)
    bar.addWidget(prompt, 3)
    bar.addWidget(said, 2)
    bar.addPermanentWidget(state)
    return prompt, said, state
