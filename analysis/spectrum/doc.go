package spectrum
