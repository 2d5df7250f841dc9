package seaway
