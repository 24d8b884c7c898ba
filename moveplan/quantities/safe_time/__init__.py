"""How long animals last in a container: oxygen, carbon dioxide, ammonia, temperature."""
