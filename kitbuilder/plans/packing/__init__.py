"""How a set goes into the bags of a journey, and what stays behind where it does not."""
