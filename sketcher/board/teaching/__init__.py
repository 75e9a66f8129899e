"""The construction of a part, played stroke by stroke, and a step that somebody draws by hand.

Gives `LessonPlay`, `OwnTry` and what compares. Knows the steps of the board; no tool knows of it.
"""
