"""How an answer is written: a file per form, each with `render(answer, system, width)`."""
