"""What a kit is: plain frozen records in SI units. No files, no formulas."""
