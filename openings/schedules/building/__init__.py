"""What models of buildings and their handover sheets say of windows."""
