"""What is wrong with a bath: signs weighed against causes, by a table that anyone can read; see ``answer``."""
