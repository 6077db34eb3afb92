#!/usr/bin/env python3
"""Turns general-purpose libraries into the small tables that tests/physics.rs compares the laws with.

    pip install iapws==1.5.5 fluids==1.3.1 mpmath==1.4.1
    python tests/scripts/physics_tables.py tests/physics
"""

import json
import pathlib
import sys

from fluids.friction import Colebrook
from iapws import IAPWS97
from iapws._iapws import _Viscosity
from iapws.iapws97 import _PSat_T, _Region1

ATMOSPHERE = 0.101325  # MPa


def water(celsius):
    """Vapour pressure in Pa; density in kg/m3, viscosity in Pa s and compressibility in 1/Pa at 1 atm or just above boiling."""
    kelvin = celsius + 273.15
    vapour = _PSat_T(kelvin)
    pressure = max(ATMOSPHERE, vapour * (1 + 1e-9))
    state = _Region1(kelvin, pressure)
    density = 1 / state["v"]
    if celsius < 99:
        assert abs(IAPWS97(T=kelvin, P=pressure).rho - density) < 1e-9
    return {
        "kelvin": kelvin,
        "pressure": pressure * 1e6,
        "vapour_pressure": vapour * 1e6,
        "density": float(density),
        "viscosity": float(_Viscosity(density, kelvin)),
        "compressibility": float(state["kt"]) * 1e-6,
    }


def friction(reynolds, roughness):
    """Darcy factor by the Lambert W function with many digits."""
    return {"reynolds": reynolds, "roughness": roughness, "friction": float(Colebrook(reynolds, roughness, tol=0))}


def main(folder):
    points = [0, 0.01, 4, 5] + list(range(10, 101, 10))
    reynolds = [4e3, 6e3, 1e4, 3e4, 1e5, 1e6, 1e7, 1e8]
    roughness = [0.0, 1e-6, 1e-4, 1e-3, 2e-3, 1e-2, 5e-2]
    tables = {
        "water.json": [water(celsius) for celsius in points],
        "friction.json": [friction(re, eps) for re in reynolds for eps in roughness],
    }
    for name, rows in tables.items():
        (folder / name).write_text(json.dumps(rows, indent=1) + "\n")


if __name__ == "__main__":
    main(pathlib.Path(sys.argv[1]))
