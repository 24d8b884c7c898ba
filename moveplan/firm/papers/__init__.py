"""What a firm's outlook becomes: data, the month, a sheet for each person and vehicle, what a client gets."""
