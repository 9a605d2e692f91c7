"""What a trip asks of the items that travel: where they may go, how wet they come home, and what contradicts itself."""
