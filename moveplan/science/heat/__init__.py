"""Heat: walls, the course of temperature of containers, air outside and in vehicles, heaters and circuits."""
