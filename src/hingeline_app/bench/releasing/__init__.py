"""What is disturbed, checked again and still in the way before a job is signed."""
