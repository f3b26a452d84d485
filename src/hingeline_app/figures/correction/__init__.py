"""What a correction and a coat of paint add and take: where, how much, what it does to the moment."""
