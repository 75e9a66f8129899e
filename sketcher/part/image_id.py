"""What a curve of the whole part is an image of: its source, the mirrors and the instance."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class ImageId:
    """Identity of a drawn curve or of one of its images.

    Parameters
    ----------
    source : str
        Id of the drawn curve.
    mirrors : int
        Sum of 1 for a reflection about the first axis and 2 for one about the second.
    instance : int
        0 for the drawn instance of a pattern, 1 for the first further one ...

    Attributes
    ----------
    name : str
        As people and files read it: ``e1``, ``h1#3`` the third further instance of ``h1``, ``e1'``
        the reflection of ``e1`` about the first axis, ``e1''`` that about the second, ``e1'''``
        that about both.
    """

    source: str
    mirrors: int = 0
    instance: int = 0
    name: str = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        number = f"#{self.instance}" if self.instance else ""
        object.__setattr__(self, "name", f"{self.source}{number}{marks(self.mirrors)}")

    def __reduce__(self) -> tuple[type[ImageId], tuple[str, int, int]]:
        return ImageId, (self.source, self.mirrors, self.instance)  # half of what fields would be

    def __str__(self) -> str:
        return self.name

    @property
    def drawn(self) -> bool:
        """True for the drawn curve itself."""
        return not self.mirrors and not self.instance

    @property
    def turned_over(self) -> bool:
        """True where counter-clockwise became clockwise: after one reflection, not after two."""
        return self.mirrors.bit_count() % 2 == 1

    @property
    def away(self) -> tuple[int, bool]:
        """How far it is from the drawn curve, for choosing the nearest of several images."""
        return (self.mirrors, self.instance > 0)

    def reflected(self, number: int) -> ImageId:
        """Return its image about an axis (0 or 1): of what was reflected there, what it was."""
        return ImageId(self.source, self.mirrors ^ 1 << number, self.instance)

    def same_image(self, other: ImageId) -> bool:
        """Tell whether both are the same image of two curves."""
        return self.mirrors == other.mirrors and self.instance == other.instance


def marks(mirrors: int) -> str:
    """Return what stands behind the name of something reflected."""
    return "'" * mirrors


def read_image_id(name: str) -> ImageId:
    """Return the identity that a printed name tells; this alone takes names apart.

    Examples
    --------
    >>> read_image_id("h1#3'")
    ImageId(source='h1', mirrors=1, instance=3)
    """
    plain = name.rstrip("'")
    source, _, number = plain.partition("#")
    return ImageId(source, len(name) - len(plain), int(number) if number.isdecimal() else 0)
