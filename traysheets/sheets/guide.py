"""guide.pdf, for somebody who has never sown: for every sowing day its order of work, then a page for every batch.

Here is only which page follows which. The day is `guide_day.py`, a batch `guide_batch.py`, the pictures `pictures/`.
"""

from collections.abc import Iterator

from traysheets.page.marks import Page
from traysheets.sheets.guide_batch import batch_page
from traysheets.sheets.guide_day import DayPages
from traysheets.sheets.guide_shared import Shared
from traysheets.sheets.job import Job


def guide_pages(job: Job) -> Iterator[Page]:
    """The pages of guide.pdf, one at a time: day after day, the batches of a day in the order they are sown."""
    shared = Shared(job)
    days = [DayPages(shared, day) for day in sorted({batch.sow for batch in job.batches})]
    pages = sum(len(day) + len(day.batches) for day in days)
    page = 1
    for day in days:
        first = page + len(day)
        on_page = {batch.index: first + i for i, batch in enumerate(day.batches)}
        yield from day.pages(page, pages, on_page)
        for batch in day.batches:
            yield batch_page(shared, batch, on_page[batch.index], pages)
        page = first + len(day.batches)
