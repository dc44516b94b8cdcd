"""From a plan to paper: views, layouts, blocks, marks, PDF.

`views` say what a layout may see, `words` say it in the reader's language; `layout` fills a template and
`markup` reads it as `blocks` by the table in `vocabulary`; `flow` (with `rows`, `pictures`, `tables`, `wrap`)
and `labels` turn blocks into `marks` on pages, without the PDF library; `draw` writes the marks as a PDF.
"""
