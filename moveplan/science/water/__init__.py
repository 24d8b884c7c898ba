"""Sea water: density, salt, carbonate chemistry, mixing, flow, purified water."""
