"""``python -m rigxl`` is the command ``rigxl``."""

from rigxl.cli import main

if __name__ == "__main__":
    main(prog_name="rigxl")
