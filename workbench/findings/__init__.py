"""What the readings say: which explanations of a sheet are likely, and which pair would tell most."""
