"""A club that builds together: members, baths of several plans, one list for all, shares and a rota of rounds."""
