"""``sketcher coupon``: a test coupon for the kerf, and the kerf by what is measured on it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from sketcher.commands.deliverables.cut_output import add_form
from sketcher.errors import EditError
from sketcher.terminal import (
    DONE,
    Command,
    add_json,
    add_process,
    option_count,
    option_length,
    print_json,
    progress,
)

if TYPE_CHECKING:
    from sketcher.shop.coupon import CouponSizes, MeasuredKerf

LESSON = """\
--out exports the cutting DXF of a test coupon: a square with two round holes and a comb of slots,
all at nominal size. Cut it on its lines, with the kerf of the cutter's program switched off, in the
plate, at the speed and with the nozzle of the work. Half of the kerf then comes off all along:

  square:  kerf = nominal size - what the caliper says
  hole:    kerf = what the caliper says - nominal diameter
  slots:   each is narrower than the gauge (the shank of a drill) by a kerf that is printed; the
           gauge goes into those that the real kerf made wide enough

An example: a square of 120 mm that measures 118.5 mm was cut with a kerf of 1.5 mm.

--measured takes the readings and prints the kerf of each, their mean and how far they lie apart:
width and height of the square, hole1 (the left one), hole2, and slot, the number of the last slot
that the gauge goes into, counted from the left with the bevelled corner up on the left. The other
options have to be those by which the coupon was exported. What comes out is the --kerf of 'sketcher
export'. Bevelled edges measure differently at top and bottom: measure where the part is to fit.

LEN is a length in the coupon's unit or with a unit of its own: 6, 1/4in, 1.5mm.

Exit status: 0 done, 2 a value cannot be read, a reading tells of no kerf, or the file cannot be
replaced."""
READINGS = ("width", "height", "hole1", "hole2", "slot")
SLOT = "write the number of the last one that the gauge goes into, or 0"
MUCH = 0.25
"""Readings that lie further apart than this share of the kerf are told (common practice, no
source)."""


def _options(parser: argparse.ArgumentParser) -> None:
    add_process(parser, "how it is cut: the slots are for its usual kerfs", required=True)
    parser.add_argument("--unit", choices=("mm", "in"), default="mm", help="unit of the file")
    parser.add_argument("--thickness", metavar="LEN",
                        help="of the plate; without it 3 mm, or 1/8 in")
    parser.add_argument("--out", metavar="OUT.dxf", help="the cutting DXF to export")
    add_form(parser)
    parser.add_argument("--measured", metavar="NAME=LEN", nargs="+", action="extend", default=[],
                        help=f"readings: {', '.join(READINGS)}")
    parser.add_argument("--gauge", metavar="LEN",
                        help="what the caliper says of the gauge for the slots")
    add_json(parser, "sizes and kerfs", ", in the coupon's unit")
    parser.add_argument("--force", action="store_true", help="replace any other kind of file")


def _coupon(args: argparse.Namespace) -> int:
    from sketcher.part.value import USUAL_MATERIAL
    from sketcher.shop.coupon import coupon_sizes

    if args.out is None and not args.measured:
        raise EditError("coupon", "says neither what to export nor what was measured",
                        "add --out OUT.dxf, or --measured width=LEN")
    for option, wanted in (("form", args.out is not None),
                           ("gauge", any(each.startswith("slot") for each in args.measured))):
        if getattr(args, option) is not None and not wanted:
            need = "--out OUT.dxf" if option == "form" else "--measured slot=NUMBER"
            raise EditError(f"--{option}", f"does nothing without {need}", f"add {need}")
    thickness = option_length("thickness", args.thickness, args.unit)
    sizes = coupon_sizes(args.process, args.unit,
                         USUAL_MATERIAL[args.unit].thickness if thickness is None else thickness)
    kerfs = _readings(args, sizes)
    told = list(_exported(args, sizes)) if args.out is not None else []
    if args.json:
        print_json("coupon", _record(args, sizes, kerfs))
        return DONE
    for line in (*told, *_found(sizes, kerfs)):
        print(line)
    return DONE


def _readings(args: argparse.Namespace, sizes: CouponSizes) -> list[MeasuredKerf]:
    """The kerf by each reading that was given."""
    from sketcher.shop.coupon import kerf_by

    gauge, found = option_length("gauge", args.gauge, sizes.unit), []
    for given in args.measured:
        name, equals, text = (piece.strip() for piece in given.partition("="))
        if name not in READINGS or not equals or not text:
            raise EditError(f"--measured {given}", "is no reading of the coupon",
                            f"write it like --measured width=49.8; there are {', '.join(READINGS)}")
        if name == "slot":
            value = float(option_count("measured slot", text, 0, SLOT) or 0)
        else:
            value = option_length(f"measured {name}", text, sizes.unit) or 0.0
        found.append(kerf_by(sizes, name, value, gauge))
    return found


def _exported(args: argparse.Namespace, sizes: CouponSizes) -> Iterator[str]:
    """Write the file; yield what it holds and how to measure it."""
    from sketcher.exchange.dxf_cut import write_cut
    from sketcher.exchange.outputs import CUTTING, Outputs
    from sketcher.inspect.inspection import inspect_part
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.shop.cautions import SAFETY
    from sketcher.shop.coupon import coupon_part
    from sketcher.shop.cut_plan import CutSettings

    outputs = Outputs(force=args.force)
    place = outputs.add("--out", args.out, CUTTING)
    with progress("making the coupon"):
        solution = solve_sketch(coupon_part(sizes))
        inspection = inspect_part(solution.part, solution.report)
        settings = CutSettings(process=sizes.process, small_holes="cut", lead="auto")
        written = write_cut(inspection, place, put=outputs.put, settings=settings,
                            form=args.form or "r2000")
    outputs.write()
    yield from (f"{args.out}: {line}" if not k else f"  {line}"
                for k, line in enumerate(_how(sizes)))
    yield from (f"  mind: {line}" for line in written.minded)
    yield from (f"  caution: {caution}" for caution in SAFETY)


def _how(sizes: CouponSizes) -> Iterator[str]:
    """Yield the arithmetic with the coupon's own sizes."""
    from sketcher.inspect.words import bare_length, length

    def said(amount: float) -> str:
        return length(amount, sizes.unit)

    side, kerf = sizes.side, sizes.kerfs[len(sizes.kerfs) // 2]
    first, second = sizes.holes
    yield (f"a square of {said(side)} for {said(sizes.thickness)} plate and {sizes.process}, two "
           f"holes, {len(sizes.slots)} slots; nominal size, unit {sizes.unit}")
    yield "cut it on its lines: switch the kerf of the cutter's program off, for this file alone"
    yield ("the cut leads in from the scrap, at the middle of an edge and in the holes: measure "
           "beside those places")
    yield (f"width and height: kerf = {bare_length(side, sizes.unit)} - what the caliper says; "
           f"{bare_length(side - kerf, sizes.unit)} gives {said(kerf)}")
    for name, hole in (("hole1, the left one", first), ("hole2", second)):
        yield (f"{name}: kerf = what the caliper says - {bare_length(hole, sizes.unit)}; "
               f"{bare_length(hole + kerf, sizes.unit)} gives {said(kerf)}")
    yield (f"slots, from the left with the bevelled corner up on the left, for a gauge of "
           f"{said(sizes.gauge)}:")
    for k, (width, least) in enumerate(zip(sizes.slots, sizes.kerfs, strict=True), 1):
        yield (f"  slot {k}, {bare_length(width, sizes.unit)} nominal: it goes in from a kerf of "
               f"{said(least)}")


def _found(sizes: CouponSizes, kerfs: list[MeasuredKerf]) -> Iterator[str]:
    """Yield the kerf of each reading, and that of all."""
    from sketcher.inspect.words import bare_length, length
    from sketcher.shop.coupon import kerf_of_all

    if not kerfs:
        return
    for one in kerfs:
        least, most = (bare_length(each, sizes.unit) for each in (one.least, one.most))
        yield f"{one.reading}: kerf {least if least == most else f'{least} to {most}'} {sizes.unit}"
    kerf, spread = kerf_of_all(kerfs)
    yield (f"kerf {length(kerf, sizes.unit)}, give or take {length(spread, sizes.unit)}; export "
           f"with --kerf {bare_length(kerf, sizes.unit)}{sizes.unit}")
    if spread > MUCH * kerf:
        yield "  mind: the readings lie far apart; measure again, or cut the coupon once more"


def _record(
    args: argparse.Namespace, sizes: CouponSizes, kerfs: list[MeasuredKerf]
) -> dict[str, Any]:
    from sketcher.shop.coupon import kerf_of_all

    kerf, spread = kerf_of_all(kerfs) if kerfs else (None, None)
    return {
        "unit": sizes.unit, "process": sizes.process,
        "thickness": sizes.thickness, "file": args.out, "side": sizes.side,
        "holes": list(sizes.holes), "gauge": sizes.gauge, "slots": list(sizes.slots),
        "readings": [{"reading": one.reading, "least": one.least, "most": one.most}
                     for one in kerfs],
        "kerf": kerf, "spread": spread,
    }


COMMAND = Command("coupon", "export a test coupon for the kerf, and tell the kerf by it", LESSON,
                  _options, _coupon, rank=5)
