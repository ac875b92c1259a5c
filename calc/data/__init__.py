"""Small tables of the trade; every row says where it comes from."""
