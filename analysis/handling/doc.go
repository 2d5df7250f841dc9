package handling
