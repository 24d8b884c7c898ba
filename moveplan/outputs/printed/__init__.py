"""How values are printed for one keeper: dates, quantities and money, in their zone, locale and units."""
