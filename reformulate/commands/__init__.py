"""The command line: reading the arguments, and what a finished command returns."""

from reformulate.commands.run import run

__all__ = ["run"]
