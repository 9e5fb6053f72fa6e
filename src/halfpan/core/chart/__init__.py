"""The sheet in millimetres; origin top left, x across, y down."""
