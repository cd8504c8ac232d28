"""The subcommands of `heavyspot`, one module each. A module loads the heavy rooms only when its command runs."""
