"""Which gas reaches what, and through which first stage."""
