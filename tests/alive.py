"""Names that no Python here uses and that are alive all the same, each with what uses it; vulture reads this file."""

# Printed by the templates, which vulture does not read.
latex  # the symbols of a formula, on the page Reference
deviation, tolerance, origin  # rows of the pages Checked and Licences
imports, entries  # parts of the page for scripts

# Part of what was published, and compared with its source in tests/calc/test_feed.py.
ammonium_mg_l

# Asked by the tests of what an edit makes run again.
ran

# Declared for the answer at a glance, whose rows render/page.py (GLANCE) still lists by hand.
headline

# Read or called by a library: the server's class, the zip's entries, the web driver's options, the parser.
protocol_version, log_message, ignored, daemon_threads
compress_type, external_attr
binary_location
color  # of argparse, from Python 3.14 on
handle_starttag
