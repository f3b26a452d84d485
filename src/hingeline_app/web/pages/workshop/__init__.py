"""The workshop: people, tablets, scales, stands, aircraft, labels and wording."""
