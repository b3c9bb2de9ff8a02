"""heavingline: a remote-alert and text-command gateway for unattended boats."""
