"""Pumps to start the two lists with: invented, so that a first plan has an answer before anybody goes shopping."""

from __future__ import annotations

SOURCE = "invented examples; not a real product or price. Put in the plate values of pumps that you can buy."

# Free-air flow and shut-off pressure; plug power stays within 5 to 20 % wire-to-air, the range small pumps are said
# to have (from memory, not verified).
AIR_PUMPS: tuple[dict[str, str], ...] = (
    {"name": "Example A1", "free_flow": "4 L/min", "shutoff": "15 kPa", "power": "3 W", "price": "12"},
    {"name": "Example A2", "free_flow": "10 L/min", "shutoff": "20 kPa", "power": "6 W", "price": "22"},
    {"name": "Example A3", "free_flow": "20 L/min", "shutoff": "25 kPa", "power": "11 W", "price": "38"},
    {"name": "Example A4", "free_flow": "45 L/min", "shutoff": "30 kPa", "power": "24 W", "price": "75"},
    {"name": "Example A5", "free_flow": "80 L/min", "shutoff": "35 kPa", "power": "40 W", "price": "120"},
    {"name": "Example A6", "free_flow": "150 L/min", "shutoff": "40 kPa", "power": "70 W", "price": "230"},
    {"name": "Example A7", "free_flow": "300 L/min", "shutoff": "40 kPa", "power": "130 W", "price": "420"},
    {"name": "Example A8", "free_flow": "1000 L/min", "shutoff": "20 kPa", "power": "340 W", "price": "690"},
)

# Shut-off head and top flow.
WATER_PUMPS: tuple[dict[str, str], ...] = (
    {"name": "Example W1", "shutoff_head": "0.8 m", "top_flow": "400 L/h", "power": "5 W", "price": "14"},
    {"name": "Example W2", "shutoff_head": "1.4 m", "top_flow": "800 L/h", "power": "10 W", "price": "20"},
    {"name": "Example W3", "shutoff_head": "2 m", "top_flow": "1500 L/h", "power": "22 W", "price": "32"},
    {"name": "Example W4", "shutoff_head": "2.6 m", "top_flow": "2500 L/h", "power": "40 W", "price": "48"},
    {"name": "Example W5", "shutoff_head": "3.2 m", "top_flow": "4000 L/h", "power": "70 W", "price": "75"},
    {"name": "Example W6", "shutoff_head": "4 m", "top_flow": "7000 L/h", "power": "120 W", "price": "120"},
    {"name": "Example W7", "shutoff_head": "5 m", "top_flow": "12000 L/h", "power": "220 W", "price": "210"},
)
