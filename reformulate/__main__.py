"""``reformulate`` and ``python -m reformulate``."""

from __future__ import annotations

import os
import sys

from reformulate.commands import run


def main() -> int:
    """Run the command line."""
    try:
        code = run(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader has seen enough; what is left in the buffer must not complain at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code


if __name__ == "__main__":
    sys.exit(main())
