"""Every rule, with the smallest change to a kit that sets it off and one that does not."""
