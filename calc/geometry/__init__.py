"""Places on boards and floors: where holes and stones go, whatever they are for."""
