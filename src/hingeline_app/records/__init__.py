"""The workshop's records: who did what to which surface, kept so that nothing is lost or silently changed.

models/     tables; private to this package
queries/    reads, each for a person: only what that person may see
actions/    writes, each through the one write door, each in the ledger
roles       who may do what: one table
write_door  lock, transaction, entry, synced journal line
chain       how an entry is hashed to the one before it
"""
