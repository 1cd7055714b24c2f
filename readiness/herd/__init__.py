"""All bulls: the board, the diary, the day sheet, one bull's card, figures."""
