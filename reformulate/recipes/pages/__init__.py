"""Recipes in saved web pages: schema.org data in HTML or JSON, or else the text that is seen.

Nothing here opens a connection: what a page points to is never fetched, its scripts are never run.
"""

from reformulate.recipes.pages.page import Page, PageNutrient, PageRecipe, PageStep
from reformulate.recipes.pages.reading import PAGE_LIMIT, read_page

__all__ = ["PAGE_LIMIT", "Page", "PageNutrient", "PageRecipe", "PageStep", "read_page"]
