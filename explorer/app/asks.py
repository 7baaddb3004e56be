"""What can be printed, each as a small frozen value that says everything its pages depend on."""

from dataclasses import dataclass, replace

from explorer.child_page import Level, child_page
from explorer.customer_page import Offer, PriceRule, customer_page
from explorer.piece import Piece
from explorer.project_page import Sizes, project_page
from explorer.sheet import making_sheet
from explorer.sheet_facts import SheetOptions
from gallery.page import Break, Document


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A document and what its file is called; ``web`` asks for a web page of it too."""

    label: str
    stem: str
    document: Document
    web: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetAsk:
    """A making sheet."""

    piece: Piece
    options: SheetOptions

    def documents(self) -> tuple[Named, ...]:
        """What is printed."""
        document = making_sheet(self.piece, self.options)
        return (Named(label="the making sheet", stem="making-sheet", document=document),)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildAsk:
    """The child's pages, and the answers in a file of their own."""

    piece: Piece
    level: Level
    dated: str
    large: bool

    def documents(self) -> tuple[Named, ...]:
        """What is printed."""
        whole = child_page(self.piece, self.level, dated=self.dated, large=self.large)
        child, answers = answers_apart(whole)
        return (
            Named(label="the child's pages", stem="sums", document=child),
            Named(label="the answers", stem="answers", document=answers),
        )


def answers_apart(document: Document) -> tuple[Document, Document]:
    """A child's page without its last part, which opens on a page of its own, and that part."""
    last = max(at for at, block in enumerate(document.blocks) if isinstance(block, Break))
    child = replace(document, blocks=document.blocks[:last])
    answers = replace(
        document, title=f"{document.title}: answers", blocks=document.blocks[last + 1 :]
    )
    return child, answers


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferAsk:
    """A customer's page."""

    offers: tuple[Offer, ...]
    rule: PriceRule
    to_whom: str
    dated: str

    def documents(self) -> tuple[Named, ...]:
        """What is printed."""
        document = customer_page(self.offers, self.rule, to_whom=self.to_whom, dated=self.dated)
        return (Named(label="the customer's page", stem="proposals", document=document),)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProjectAsk:
    """A project for others."""

    piece: Piece
    sizes: Sizes
    options: SheetOptions

    def documents(self) -> tuple[Named, ...]:
        """What is printed."""
        document = project_page(self.piece, self.sizes, self.options)
        return (Named(label="the project", stem="project", document=document, web=True),)


Ask = SheetAsk | ChildAsk | OfferAsk | ProjectAsk
