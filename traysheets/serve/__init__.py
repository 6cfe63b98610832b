"""The book on phones: pages on the local network to look a batch up and to note what is seen at the bench."""
