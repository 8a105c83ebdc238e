"""The rhythm, the simulation, the outlook and the backlog."""
