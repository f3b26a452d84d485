"""What is found on arrival: surfaces in their picture and in the order they are worked, and what is fitted."""
