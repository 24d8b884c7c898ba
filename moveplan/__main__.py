"""Runs the command line as ``python -m moveplan``."""

from moveplan.cli.app import main

if __name__ == "__main__":
    main()
