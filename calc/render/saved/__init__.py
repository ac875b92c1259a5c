"""Files that leave the screen for another program: boards for a cutter, tables, plain data, a calendar, a workbook."""
