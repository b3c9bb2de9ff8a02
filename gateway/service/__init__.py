"""The running gateway: wiring and the loop. Takes what comes, has the desk decide, puts it on disk, then acts."""
