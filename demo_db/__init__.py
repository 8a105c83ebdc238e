"""An invented army, an invented painter, two years of invented evenings whose true minutes are known."""
