"""`python -m gateway` and the `heavingline` command."""

from gateway.cli.commands import heavingline


def main() -> None:
    """Run the command line."""
    heavingline(prog_name="heavingline")


if __name__ == "__main__":
    main()
