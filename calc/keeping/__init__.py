"""Running a bath: its log, what today asks for, and what is wrong; imported only when a page or a command asks.

One way as everywhere: entries as typed -> their values beside a solved plan -> acts, trends, causes -> render.
Nothing here knows of a browser, keeps anything, or looks at a clock: the page says what time it is.
"""
