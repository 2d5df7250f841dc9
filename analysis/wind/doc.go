package wind
