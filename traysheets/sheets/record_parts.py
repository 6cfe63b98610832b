"""What the record pages share: where each is found, the look of a batch, pictures of trays with words for them."""

from functools import cached_property

from traysheets.arrange.model import ArrangedTray
from traysheets.base.directions import side_by_side
from traysheets.page.marks import Page, Place
from traysheets.page.record import Item, Picture, Way
from traysheets.reckon.model import Batch
from traysheets.sheets.job import Job
from traysheets.sheets.list_parts import swatch
from traysheets.sheets.looks import Look, looks
from traysheets.sheets.phrases import whereabouts
from traysheets.sheets.tray_drawing import TrayDrawing, tray_picture

SEPARATOR = " · "

_MARK_MM = 9.0, 6.0


class RecordParts:
    """The parts of one job's record pages. Keeps what it draws, so that pages share it."""

    def __init__(self, job: Job) -> None:
        self.job, self.words = job, job.words
        self._drawing = TrayDrawing(job)
        self._marks: dict[Look, Page] = {}

    @cached_property
    def _looks(self) -> dict[int, Look]:
        return looks(self.job)

    def batch_path(self, batch: Batch) -> str:
        """Where the page of a batch is found; in upper case, as QR codes pack such addresses tighter."""
        return f"B/{self.job.codes[batch.index].upper()}"

    def tray_path(self, number: int) -> str:
        """Where the page of a tray is found."""
        return f"T/{number}"

    def tray_way(self, number: int) -> Way:
        """A way to a tray."""
        return Way(self.words("records.tray", number=str(number)), self.tray_path(number))

    def up(self) -> Way:
        """The way back to the index."""
        return Way(self.words("records.index"), "")

    def footer(self) -> str:
        """Which plan it is, and whose."""
        plan = self.job.plan
        footer = self.words("records.footer", plan=plan.title, season=str(plan.season))
        return side_by_side((footer, plan.grower), SEPARATOR)

    def mark(self, batch: Batch) -> Page:
        """A small picture of a batch's colour and hatch, as in the legend of the map; one for all batches of a look."""
        look = self._looks[batch.index]
        if look not in self._marks:
            self._marks[look] = Page(*_MARK_MM, (Place(swatch(look, *_MARK_MM), 0, 0),), margin_mm=0)
        return self._marks[look]

    def batch_item(self, batch: Batch, *details: str) -> Item:
        """A line that leads to a batch."""
        return Item(
            title=batch.sowing.variety,
            details=side_by_side((batch.sowing.crop_name, *details), SEPARATOR),
            code=self.job.codes[batch.index],
            letters=batch.sowing.code,
            mark=self.mark(batch),
            link=self.batch_path(batch),
        )

    def picture(self, tray: ArrangedTray, picked: Batch | None = None) -> Picture:
        """The tray from above; a batch picked out stands in full among faint ones."""
        page = tray_picture(self.job, tray, picked.index if picked else None, self._drawing)
        caption = ""
        if picked:
            cells = whereabouts(tray, picked.index)
            caption = self.words("records.picked", number=str(tray.number), cells=cells)
        return Picture(page, self._picture_text(tray), caption)

    def _picture_text(self, tray: ArrangedTray) -> str:
        """The picture in words, for those who do not see it."""
        batches = (self.job.batch(index) for index in tray.batches)
        contents = " ".join(
            self.words(
                "records.picture_batch",
                letters=batch.sowing.code,
                variety=batch.sowing.variety,
                cells=whereabouts(tray, batch.index),
            )
            for batch in batches
        )
        rows, columns, cells = tray.kind.rows, tray.kind.columns, tray.kind.cells
        key = "picture_one" if cells == 1 else "picture_line" if 1 in (rows, columns) else "picture"
        return self.words(f"records.{key}", rows=rows, columns=columns, cells=cells, contents=contents)
