"""The subcommands of `heavyspot`, a module each. A module is imported only when its command runs."""
