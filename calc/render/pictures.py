"""stub"""
from . import section, plans
OF_STEP = {"tank": (lambda d, w: section.bath_section(d),)}
