package speed
