"""The crew's page on the home network: one address a person, records into the one journal."""
