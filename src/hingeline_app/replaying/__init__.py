"""A result that was kept, worked out again from what was asked, and what differs then."""
