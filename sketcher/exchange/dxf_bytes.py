"""DXF documents begun and turned into bytes: the same drawing always gives the same file.

Two exports of one part can so be compared, and kept side by side, byte for byte.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

NO_GUID = b"{00000000-0000-0000-0000-000000000000}"


def new_document(version: str, unit: str) -> Any:
    """Return an empty ezdxf document of a DXF version such as ``R2000``, in mm or in inches."""
    import ezdxf
    from ezdxf import units

    with _no_clock():
        return ezdxf.new(version, units=units.IN if unit == "in" else units.MM)


def dxf_bytes(document: Any) -> bytes:
    """Return an ezdxf document as the content of a file, without the time and GUID of the day."""
    stream = io.StringIO()
    with _no_clock():
        document.write(stream)
    return stream.getvalue().encode(document.output_encoding, "dxfreplace")


def is_timeless(content: bytes) -> bool:
    """Tell whether a DXF has no GUID of its own, as those of `dxf_bytes`, and no date.

    R12 has no GUID, and its dates stand in the header or nowhere (DXF reference, from memory).
    """
    return NO_GUID in content or (b"AC1009" in content and b"$TDCREATE" not in content)


@contextmanager
def _no_clock() -> Iterator[None]:
    """Let ezdxf write fixed dates and GUIDs; the setting is put back."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
