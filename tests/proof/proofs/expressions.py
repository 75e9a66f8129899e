"""Whatever is typed as an expression is its value or one clear error, at once.

Half of the texts are built from a tree whose value the standard library's exact fractions give
(only `+ - * /`, whole powers, mixed fractions and units: 1 in is 25.4 mm by definition); the other
half are such texts spoiled, or signs and words thrown together.
"""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from random import Random

from sketcher.errors import QuantityError
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate
from sketcher.quantity.physical_dimension import Value
from tests.proof.proof import Proof
from tests.proof.tally import Case

NAMES = {"wall": Fraction(8), "span": Fraction(112), "t_2": Fraction(5, 2)}
WORDS = ("sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "pi", "wall", "span", "t_2", "mm",
         "in", "inch", "cm", "m", "deg", "rad", "d", "°", "'", '"', "+", "-", "*", "/", "^", "(",
         ")", "**", "//", ",", ".", "e", "E", "1e9", "1e308", "1e-308", "0", "00", "1/0", "1 5/8",
         "1-5/8", "1/2 1/4", "-1", "½", "π", "²", "−", "\u00a0", "\u0663", "%", "=", "__import__",
         "lambda", "\x00", "\ud800", "\n", "\t", "9" * 400,
         "x" * 400, "(" * 60, "-" * 60, "2^" * 60)
MOST = 1e12


def tree(random: Random, depth: int) -> tuple[str, Fraction]:
    """A plain number as text and its exact value."""
    if depth == 0 or random.random() < 0.2:
        match random.randrange(4):
            case 0:
                number = random.randint(0, 200)
                return str(number), Fraction(number)
            case 1:
                text = f"{random.randint(0, 99)}.{random.randint(0, 9999)}"
                return text, Fraction(text)
            case 2:
                name = random.choice(list(NAMES))
                return name, NAMES[name]
            case _:
                whole, over, under = random.randint(0, 9), random.randint(1, 7), 8
                return f"({whole} {over}/{under})", whole + Fraction(over, under)
    a, va = tree(random, depth - 1)
    if random.random() < 0.1:
        power = random.randint(0, 3)
        return f"({a})^{power}", va**power
    if random.random() < 0.1:
        return f"(-({a}))", -va
    b, vb = tree(random, depth - 1)
    sign = random.choice("+-*/")
    if sign == "/" and vb == 0:
        sign = "*"
    value = {"+": va + vb, "-": va - vb, "*": va * vb, "/": va / vb if vb else va}[sign]
    space = random.choice(("", " "))
    if space == "" and sign == "-":
        space = " "  # a hyphen without spaces may join a fraction
    return f"({a}){space}{sign}{space}({b})", value


def sound_text(random: Random) -> tuple[str, str, Fraction]:
    """A length with a unit somewhere: text, unit of the part, exact value in it."""
    text, value = tree(random, random.randint(1, 4))
    unit = random.choice(("mm", "in"))
    written = random.choice(("", " mm", " in", " cm"))
    factor = {"": 1, " mm": 1, " cm": 10, " in": Fraction(254, 10)}[written]
    per = Fraction(1) if unit == "mm" or not written else Fraction(10, 254)
    return f"({text}){written}" if written else text, unit, value * factor * per


def spoiled_text(random: Random) -> str:
    """A text with pieces put in, taken out or thrown together."""
    if random.random() < 0.3:
        return random.choice(("", " ")).join(random.choices(WORDS, k=random.randint(1, 12)))
    text = sound_text(random)[0]
    for _ in range(random.choice((1, 1, 2, 3))):
        at = random.randrange(len(text) + 1)
        cut = random.choice((0, 0, 1, 3))
        text = text[:at] + random.choice((*WORDS, "")) + text[at + cut:]
    return text


def one_expression(case: Case) -> None:
    random, tally = case.random, case.tally
    tally.count("expressions")
    names = {"wall": "8", "span": "96 + 2*wall", "t_2": "2 1/2"}
    if case.number % 2:
        text, unit, exact = sound_text(random)
        held = evaluate_all(names, unit)
        with case.within("an expression", 2.0):
            found = told(case, text, "length", unit, held)
        if abs(exact) > MOST:
            tally.count("out of range")
        elif not isinstance(found, float):
            tally.fault("wrong", f"case {case.number}: {text!r} in {unit}: {found}")
        elif abs(Fraction(found) - exact) > Fraction(1, 10**9) * max(1, abs(exact)):
            tally.fault("wrong", f"case {case.number}: {text!r} in {unit} is {found!r}, "
                                 f"not {float(exact)!r}")
        return
    text, unit = spoiled_text(random), random.choice(("mm", "in"))
    quantity = random.choice(("length", "angle", "number"))
    held = evaluate_all(names, unit)
    with case.within("an expression", 2.0):
        found = told(case, text, quantity, unit, held)
        # The same text as a parameter that others use.
        parameters(case, {**names, "mine": text, "yours": "2*mine"}, unit)
    tally.count("a value" if isinstance(found, float) else "an error")


def told(case: Case, text: str, quantity: str, unit: str, names: dict[str, Value]) -> float | str:
    """The value of a text, or the one line about it."""
    try:
        value = evaluate(text, quantity, unit, names, "bindings.b1.value")
    except QuantityError as error:
        line = str(error)
        if "\n" in line or not error.problem or len(line) > 1000:
            case.tally.fault("unclear", f"case {case.number}: {text!r}: {line[:80]!r}")
        return line
    if not isfinite(value):
        case.tally.fault("wrong", f"case {case.number}: {text!r} is {value}")
    return value


def parameters(case: Case, texts: dict[str, str], unit: str) -> None:
    """Evaluate parameters; one error names the one at fault."""
    try:
        evaluate_all(texts, unit)
    except QuantityError as error:
        if "mine" not in error.place and "yours" not in error.place:
            case.tally.fault("unclear", f"case {case.number}: {texts['mine']!r}: {error}")


PROOF = Proof(
    "expressions", "an expression: its exact value or one clear error, none over 2 s",
    "expressions", ("exception", "wrong", "unclear", "slow", "hung"), whole=5000, short=400,
    case=one_expression,
)
