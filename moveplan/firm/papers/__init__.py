"""What a firm's outlook becomes: data, the month, a sheet a person and a vehicle, what a client gets."""
