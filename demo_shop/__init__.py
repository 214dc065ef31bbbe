"""An invented shop on an invented coast: the Sandpiper Lane cycle and sled counter."""
