"""The command line. Each command is one module; heavy things are imported inside the commands."""
