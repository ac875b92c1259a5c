"""``python -m calc``: the command line without installing anything."""

from .command_line import console

if __name__ == "__main__":
    console("python -m calc")
