"""`python -m livemon` is the same as the command `livemon`."""

import sys

from livemon.app.cli import main

if __name__ == "__main__":
    sys.exit(main())
