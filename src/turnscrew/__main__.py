"""Run ``python -m turnscrew``."""

from turnscrew.cli.main import run

if __name__ == "__main__":
    run()
