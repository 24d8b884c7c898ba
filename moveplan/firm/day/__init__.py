"""The days of the firm's people: who rides with whom, which way, and in which round of visits."""
