package drift
