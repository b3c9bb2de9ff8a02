"""The hub: takes what happened, decides with the rooms' help, and keeps the one state. Pure."""
