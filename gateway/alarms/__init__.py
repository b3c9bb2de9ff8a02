"""The life of one alarm, from the condition that began to hold to the person who has looked."""
