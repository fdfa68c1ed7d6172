"""A sentence that knows from what it was filled in, so that it can be said in another language as a whole."""

from __future__ import annotations


class Sentence(str):
    """A sentence in English, with its text as the catalogs have it and the figures that stand in it.

    Only figures, lengths and names are filled in: what else differs is another sentence, since no two languages put
    one together alike. Where it is read it is text like any other.

    >>> cut = Sentence("cut it {length} long", length='4\\' 6"')
    >>> cut, cut.text
    ('cut it 4\\' 6" long', 'cut it {length} long')
    """

    text: str
    figures: dict[str, str]

    def __new__(cls, text: str, /, **figures: object) -> Sentence:
        """Return the sentence with its figures filled in."""
        said = {name: str(figure) for name, figure in figures.items()}
        sentence = super().__new__(cls, text.format(**said))
        sentence.text, sentence.figures = text, said
        return sentence

    def __getnewargs__(self) -> tuple[str]:
        """Return what a copy is made from: `__dict__` brings the figures."""
        return (self.text.format(**self.figures).replace("{", "{{").replace("}", "}}"),)
