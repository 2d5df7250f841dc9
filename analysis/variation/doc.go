package variation
