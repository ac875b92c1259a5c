"""Water itself: how dense, how thick, how heavy, and how hard it presses."""

from __future__ import annotations

from math import pow

from .base import PUBLISHED, STANDARD, relation
from .limits import above, at_least, between

GRAVITY = 9.80665


def _liquid(temperature_c: float) -> None:
    between("Water temperature", temperature_c, 0.0, 40.0, "°C")


@relation(title="Density of water",
          formula=r"\rho = \frac{a_0 + a_1 t + a_2 t^2 + a_3 t^3 + a_4 t^4 + a_5 t^5}{1 + b t}",
          result=(r"\rho", "kg/m³", "density of water"),
          symbols={"temperature_c": ("t", "°C", "water temperature")},
          valid="fresh water, 0 to 40 °C, 1 atm; with a0 to a5 = 999.83952, 16.945176, -7.9870401 × 10⁻³, "
                "-46.170461 × 10⁻⁶, 105.56302 × 10⁻⁹, -280.54253 × 10⁻¹² and b = 16.879850 × 10⁻³",
          source="Kell G.S. (1975) J. Chem. Eng. Data 20:97-105, eq. 16 (coefficients read in open implementations "
                 "that cite it; checked against IAPWS-95 by the iapws library)", status=PUBLISHED)
def water_density(temperature_c: float) -> float:
    """Density of fresh water in kg/m3 at 0 to 40 C; nutrient salts add 0.1 to 0.3 % and are left out."""
    _liquid(temperature_c)
    t = temperature_c
    top = (999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3 + 105.56302e-9 * t**4
           - 280.54253e-12 * t**5)
    return top / (1 + 16.879850e-3 * t)


@relation(title="Viscosity of water",
          formula=r"\mu = 10^{-6} \left( 280.68 \, \tau^{-1.9} + 511.45 \, \tau^{-7.7} + 61.131 \, \tau^{-19.6} "
                  r"+ 0.45903 \, \tau^{-40} \right), \quad \tau = \frac{t + 273.15}{300}",
          result=(r"\mu", "Pa s", "dynamic viscosity of water"),
          symbols={"temperature_c": ("t", "°C", "water temperature")}, valid="fresh water, 0 to 40 °C",
          source="IAPWS SR6-08 (2011), properties of liquid water at 0.1 MPa, eq. 7; Pátek J. et al. (2009) J. Phys. "
                 "Chem. Ref. Data 38:21-29 (coefficients read in an open implementation; checked against IAPWS R12-08)",
          status=PUBLISHED)
def water_viscosity(temperature_c: float) -> float:
    """Dynamic viscosity of fresh water in Pa s at 0 to 40 C."""
    _liquid(temperature_c)
    tau = (temperature_c + 273.15) / 300.0
    return 1e-6 * (280.68 * pow(tau, -1.9) + 511.45 * pow(tau, -7.7) + 61.131 * pow(tau, -19.6)
                   + 0.45903 * pow(tau, -40.0))


@relation(title="Heat capacity of water",
          formula=r"c_p = -461.51805 \left[ c_3 + \frac{T}{10} \left( \sum_{i=1}^{3} n_i (n_i + 1) a_i "
                  r"\alpha^{n_i + 2} + \sum_{i=1}^{4} m_i (m_i + 1) b_i \beta^{m_i + 2} \right) \right], \quad "
                  r"\alpha = \frac{10}{593 - T}, \quad \beta = \frac{10}{T - 232}",
          result=("c_p", "J/kgK", "heat for each kilogram and kelvin"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "water temperature")},
          valid="fresh water, 0 to 40 °C, 1 bar; a = -1.661470539 × 10⁵, 2.708781640 × 10⁶, -1.557191544 × 10⁸ with "
                "n = 4, 5, 7; b = -0.8237426256, 1.908956353, -2.017597384, 0.8546361348 with m = 2, 3, 4, 5; "
                "c3 = -8.983025854",
          source="IAPWS SR6-08 (2011), properties of liquid water at 0.1 MPa (coefficients read in an open "
                 "implementation; checked against IAPWS-95)", status=PUBLISHED)
def water_heat_capacity(temperature_c: float) -> float:
    """Heat capacity of fresh water in J/kgK at 0 to 40 C."""
    _liquid(temperature_c)
    kelvin = temperature_c + 273.15
    alpha, beta = 10.0 / (593.0 - kelvin), 10.0 / (kelvin - 232.0)
    first = sum(n * (n + 1) * a * alpha ** (n + 2) for a, n in (
        (-1.661470539e5, 4), (2.708781640e6, 5), (-1.557191544e8, 7)))
    second = sum(m * (m + 1) * b * beta ** (m + 2) for b, m in (
        (-8.237426256e-1, 2), (1.908956353, 3), (-2.017597384, 4), (8.546361348e-1, 5)))
    return -461.51805 * (-8.983025854 + kelvin / 10.0 * (first + second))


@relation(title="Mass of water", formula=r"m = \rho V", result=("m", "kg", "mass of water"),
          symbols={"volume_m3": ("V", "m³", "volume"), "density_kg_m3": (r"\rho", "kg/m³", "density")},
          valid="any", source="Definition of density", status=STANDARD)
def water_mass(volume_m3: float, density_kg_m3: float) -> float:
    """Mass in kg of a volume of water; OutOfRange below zero."""
    at_least("Volume", volume_m3, "m³")
    above("Density", density_kg_m3, "kg/m³")
    return volume_m3 * density_kg_m3


@relation(title="Pressure of standing water", formula=r"p = \rho g h",
          result=("p", "Pa", "pressure over the surface's"),
          symbols={"depth_m": ("h", "m", "depth under water"), "density_kg_m3": (r"\rho", "kg/m³", "density")},
          valid="still water, g = 9.80665 m/s²", source="Hydrostatic law; standard gravity of the 3rd CGPM (1901)",
          status=STANDARD)
def hydrostatic_pressure(depth_m: float, density_kg_m3: float) -> float:
    """Gauge pressure in Pa at a depth in m; OutOfRange above the surface."""
    at_least("Depth under water", depth_m, "m")
    above("Density", density_kg_m3, "kg/m³")
    return density_kg_m3 * GRAVITY * depth_m


@relation(title="Load on a floor", formula=r"p = \frac{m g}{A}", result=("p", "Pa", "pressure on the floor"),
          symbols={"mass_kg": ("m", "kg", "mass of the full bath"), "area_m2": ("A", "m²", "floor under it")},
          valid="evenly spread, g = 9.80665 m/s²", source="Definition of pressure", status=STANDARD)
def floor_pressure(mass_kg: float, area_m2: float) -> float:
    """Even pressure in Pa of a mass on an area; OutOfRange where there is no area."""
    at_least("Mass", mass_kg, "kg")
    above("Floor area", area_m2, "m²")
    return mass_kg * GRAVITY / area_m2


@relation(title="Load on a leg", formula=r"m_l = \frac{m}{n}", result=("m_l", "kg", "mass each leg carries"),
          symbols={"mass_kg": ("m", "kg", "mass of the full bath"), "legs": ("n", "", "number of legs")},
          valid="evenly shared, one leg or more", source="Arithmetic; a bench on an uneven floor shares it worse",
          status=STANDARD)
def leg_load(mass_kg: float, legs: int) -> float:
    """Mass in kg on each of the legs, if all share alike."""
    at_least("Mass", mass_kg, "kg")
    at_least("Number of legs", legs, least=1)
    return mass_kg / legs


@relation(title="Share of pure water in a blend", formula=r"p = \frac{c_t - c}{c_t - c_p}",
          result=("p", "", "share of pure water, by volume"),
          symbols={"tap": ("c_t", "mg/L", "what the tap holds"), "pure": ("c_p", "mg/L", "what pure water holds"),
                   "aim": ("c", "mg/L", "what the blend is to hold")},
          valid="what is mixed adds up, as alkalinity and sodium do; pH does not",
          source="Conservation of mass", status=STANDARD)
def pure_share(tap: float, pure: float, aim: float) -> float:
    """Share of pure water, 0 to 1, that brings the tap down to an aim; OutOfRange unless pure < aim <= tap."""
    at_least("Content of pure water", pure, "mg/L")
    above("Content of the tap", tap, "mg/L", pure)
    between("Content wanted", aim, pure, tap, "mg/L, that of the tap")
    return (tap - aim) / (tap - pure)
