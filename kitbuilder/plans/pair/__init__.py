"""Two or three divers who dive together: what each gives the other, and what they must agree on before the dive."""
