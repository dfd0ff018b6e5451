"""The command line: one module a command; nothing heavy is imported before the command is known."""
