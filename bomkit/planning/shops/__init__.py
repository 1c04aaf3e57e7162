"""Hours, moulds, plates and printers."""
