"""What each web page shows, as data: the pages only lay it out."""
