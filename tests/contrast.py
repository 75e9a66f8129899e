"""Contrast of colours as the Web Content Accessibility Guidelines 2.1 measure it."""

from __future__ import annotations


def luminance(colour: str) -> float:
    """Return the relative luminance of ``#rrggbb`` (WCAG 2.1, definition "relative luminance")."""
    total = 0.0
    for at, weight in ((1, 0.2126), (3, 0.7152), (5, 0.0722)):
        part = int(colour[at : at + 2], 16) / 255.0
        linear = part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        total += weight * linear
    return total


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.1, "contrast ratio")."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)
