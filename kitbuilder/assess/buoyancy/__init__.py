"""What everything weighs and how it floats, the lead, and the trim."""
