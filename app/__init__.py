"""Heavy Spot. Importing a room of this package must not load another: see DEVELOPERS.md, Layers."""
