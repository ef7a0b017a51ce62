"""Makes random_expressions.csv: 200 random formulas worked out by two independent libraries.

Units by pint, first-order uncertainties by uncertainties; the versions are written into the table. Run by hand:
python random_expressions.py > random_expressions.csv
A bound of half-width a enters as the standard uncertainty a/sqrt(3) (JCGM 100:2008, 4.3.7).
"""

import importlib.metadata
import math
import random

import pint
from uncertainties import ufloat, umath

random.seed(19121)
ureg = pint.UnitRegistry()

# Our spelling of a unit beside that library's.
UNITS = {
    "length": [("mm", "mm"), ("in", "inch"), ("thou", "thou"), ("ft", "foot"), ("m", "m")],
    "force": [("N", "N"), ("kN", "kN"), ("lbf", "lbf"), ("kgf", "kgf")],
    "mass": [("kg", "kg"), ("lb", "pound"), ("oz", "ounce")],
    "time": [("s", "s"), ("min", "min"), ("h", "hour")],
    "stress": [("MPa", "MPa"), ("psi", "psi"), ("bar", "bar")],
    "number": [("", ""), ("%", "percent")],
}


def value():
    digits = random.choice([1, 2, 3])
    return round(random.uniform(1, 99), digits), digits


def leaf(names, kind):
    """A new uncertain input of that kind: our text and the library's quantity."""
    ours, theirs = random.choice(UNITS[kind])
    size, digits = value()
    bound = round(size * random.uniform(0.001, 0.02), digits + 2)
    name = f"x{len(names) + 1}"
    unit = f" {ours}" if ours else ""
    names.append(f"{name} = {size}{unit} ± {bound:.{digits + 2}f}{unit}")
    magnitude = ufloat(size, bound / math.sqrt(3))
    return name, ureg.Quantity(magnitude, theirs), kind


def again(names, leaves, kind):
    """An input used before, so that terms are correlated, or a new one."""
    known = [each for each in leaves if each[2] == kind]
    if known and random.random() < 0.4:
        return random.choice(known)
    new = leaf(names, kind)
    leaves.append(new)
    return new


def plain(quantity):
    return quantity.to_base_units().to("").magnitude


def tree(names, leaves, depth):
    kind = random.choice(list(UNITS))
    if depth == 0:
        name, quantity, _ = again(names, leaves, kind)
        return name, quantity
    shape = random.choice(["sum", "product", "quotient", "power", "root", "sine", "log", "scaled"])
    if shape == "sum":
        (a, qa, _), (b, qb, _) = again(names, leaves, kind), again(names, leaves, kind)
        if kind == "number":
            qa, qb = ureg.Quantity(plain(qa)), ureg.Quantity(plain(qb))
        return (f"({a} + {b})", qa + qb) if random.random() < 0.5 else (f"(2 * {a} - {b} / 3)", 2 * qa - qb / 3)
    if shape in ("product", "quotient"):
        a, qa = tree(names, leaves, depth - 1)
        b, qb = tree(names, leaves, depth - 1)
        return (f"{a} * {b}", qa * qb) if shape == "product" else (f"{a} / ({b})", qa / qb)
    if shape == "power":
        a, qa = tree(names, leaves, depth - 1)
        exponent = random.choice([2, 3, -1])
        return f"({a})^{exponent}", qa**exponent
    if shape == "root":
        a, qa = tree(names, leaves, depth - 1)
        return f"sqrt(({a})^2)", qa if qa.magnitude.nominal_value > 0 else -qa
    if shape == "scaled":
        a, qa = tree(names, leaves, depth - 1)
        return f"-1.5 * ({a})", -1.5 * qa
    (a, qa, _), (b, qb, _) = again(names, leaves, kind), again(names, leaves, kind)
    ratio = plain(qa / qb)
    if shape == "sine":
        return f"sin({a} / {b})", ureg.Quantity(umath.sin(ratio))
    return f"ln({a} / {b} + 1)", ureg.Quantity(umath.log(ratio + 1))


def main():
    versions = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in ["pint", "uncertainties"])
    print(f"# Source: random formulas worked out by {versions} (random_expressions.py beside this file, seed 19121).")
    print("# Value and standard uncertainty in SI base units; inputs are parted by semicolons.")
    print("inputs,formula,value,standard_uncertainty,dimension")
    made = 0
    while made < 200:
        names, leaves = [], []
        try:
            text, quantity = tree(names, leaves, random.choice([1, 2, 3]))
            base = quantity.to_base_units()
        except (ValueError, ZeroDivisionError, OverflowError):
            continue
        if len(names) < 2 or not hasattr(base.magnitude, "nominal_value"):
            continue
        nominal, spread = base.magnitude.nominal_value, base.magnitude.std_dev
        size = abs(nominal)
        if not 1e-30 < size < 1e30 or spread / size > 0.3 or len(text) > 160:
            continue
        powers = base.dimensionality
        order = ["[length]", "[mass]", "[time]"]
        dimension = " ".join(str(int(powers.get(each, 0))) for each in order)
        print(f'{"; ".join(names)},{text},{nominal!r},{spread!r},{dimension}')
        made += 1


main()
