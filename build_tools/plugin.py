"""The MkDocs plugin: thin events that call the modules beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from build_tools import (
    __date__,
    __version__,
    assets,
    compressing,
    handbook,
    offline,
    pages,
    proving,
    runtime,
    search,
    server_files,
)
from build_tools.problems import report

# The theme's files that its templates would load by name; `assets` writes those that are needed. Its site map
# would be empty, for a site that may stand at any address has no addresses to list.
THEME_FILES = ("assets/javascripts/", "assets/stylesheets/", "assets/images/", "sitemap.xml")


class PulseRuler(BasePlugin):
    """Checks and proves the handbook before anything is rendered, then makes its pages and what they need."""

    def __init__(self) -> None:
        # Whoever has checked and proved a handbook already hands it over here.
        self.handbook: handbook.Handbook | None = None
        self.drafts: dict[str, pages.Draft] = {}

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        if self.handbook is None:
            self.handbook = checked(Path(config.config_file_path).parent)
        config.theme.static_templates.discard("sitemap.xml")
        config.extra["assets"] = assets.addresses()
        config.extra["version"] = __version__
        config.extra["built"] = __date__
        # A page for a wrong address would need to know where the site stands on its server.
        config.theme.static_templates.discard("404.html")
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for file in [file for file in files if file.src_uri.startswith(THEME_FILES)]:
            files.remove(file)
        for file in list(files.documentation_pages()):
            page = self._handbook.pages.get(file.src_uri.removesuffix(".md"))
            if page is None:
                files.remove(file)
            elif page.is_draft:
                file.inclusion = InclusionLevel.NOT_IN_NAV
        files.append(File.generated(config, runtime.NOTICES_PAGE, content=runtime.notices()))
        return files

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        book = self._handbook
        source = book.pages[page.file.src_uri.removesuffix(".md")]
        page.meta = pages.plain_meta(book, source)
        draft = self.drafts[source.id] = pages.Draft(book, source)
        return draft.prepared()

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        return self.drafts.pop(page.file.src_uri.removesuffix(".md")).finished(html)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        assets.write(config.site_dir)
        search.write_index(self._handbook, config.site_dir)
        # It names the engine's files in the finished pages.
        runtime.bundle(self._handbook, config.site_dir)
        # It holds the hash of every file, so nothing may change after it.
        offline.write(config.site_dir)
        compressing.compress(config.site_dir)
        server_files.write(config.site_dir)

    @property
    def _handbook(self) -> handbook.Handbook:
        assert self.handbook is not None, "MkDocs loads the configuration first"
        return self.handbook


def checked(root: Path) -> handbook.Handbook:
    """Load a handbook and prove its calculators. Raises PluginError with the whole list of problems."""
    book = handbook.load(root)
    problems: list[Any] = [*book.problems, *proving.prove(book.sheets).misses]
    if problems:
        raise PluginError(report(problems))
    return book
