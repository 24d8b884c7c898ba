"""The moving day: taking down, loading, the road, building up, letting go, rests."""
