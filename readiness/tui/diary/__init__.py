"""The Diary screen."""
