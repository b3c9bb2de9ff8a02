"""A boat's topics and payloads become readings; how fresh they are; whether the boat's link is there."""
