"""`python -m gardenframe [folder]` opens the workbooks; `--check` says whether everything they need is there."""

import sys

from gardenframe.teaching.launch import main

if __name__ == "__main__":
    sys.exit(main())
