"""A sample of each element of the vocabulary, as somebody would write it in a layout.

Comes in: nothing. Goes out: `SAMPLES`, read and drawn by the manual; they hold no names of a view,
so that each is complete in itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

SAMPLES: Mapping[str, str] = MappingProxyType(
    {
        "sheet": """
<sheet title="Cellar door" overflow="continue" continued="Cellar door, continued">
  <line h="9"><text>Everything else stands here.</text></line>
</sheet>""",
        "head": """
<sheet title="Cellar door">
  <head>
    <line h="10" size="title" weight="bold"><text>Cellar door</text></line>
  </head>
</sheet>""",
        "foot": """
<sheet title="Cellar door">
  <foot>
    <line h="6" size="tiny"><text>page <page/> of <pages/></text></line>
  </foot>
</sheet>""",
        "edge": """
<sheet title="Cellar door">
  <edge inset="12" says="12 mm" says-at="60"/><edge kind="cross" inset="12"/>
</sheet>""",
        "line": """
<line h="8" weight="bold"><text>Buy</text></line>
<line h="8"><tick/><text at="dates">Dry ale yeast</text></line>
<line h="9" frame="next"><text at="dates">A framed row</text></line>""",
        "space": """
<line h="6"><text>Before the white space</text></line>
<space h="6"/>
<line h="6"><text>after it</text></line>""",
        "group": """
<group>
  <line h="6" weight="bold"><text>These two rows</text></line>
  <line h="6"><text>never stand on different pages</text></line>
</group>""",
        "frame": """
<frame kind="stop">
  <line h="9"><text>Stop and check</text></line>
  <space h="3.5"/>
</frame>""",
        "columns": """
<columns>
  <column to="100"><line h="6"><text>left</text></line></column>
  <column at="110"><line h="6"><text>right</text></line></column>
</columns>""",
        "column": """
<columns>
  <column to="70%"><line h="6"><text>seven tenths of the width</text></line></column>
  <column at="75%"><line h="6"><text>the rest</text></line></column>
</columns>""",
        "lanes": """
<lanes at="60" to="195">
  <bar kind="hatch" start="0.3" end="0.45"/>
  <line h="7"><text>Ferment</text><track at="60" to="195" height="3"><bar start="0" end="0.5"/></track></line>
  <line h="7"><text>Bottles</text><track at="60" to="195" height="3"><bar start="0.5"/></track></line>
  <space h="2"/>
</lanes>""",
        "text": """
<line h="7"><text>plain, <b>bold</b>, <s>struck</s></text><text at="right" align="right">right</text></line>
<line h="7"><text at="words" to="110">Words wrap where the room that they are given ends.</text></line>
<line h="7" size="title"><text width="40" shrink-to="small">This shrinks until it fits</text></line>""",
        "number": """
<line h="8"><text>Sugar</text><number value="75" unit="g" other="2.6 oz"/></line>
<line h="8"><text>Water</text><number value="1.4" unit="L" size="body" align="left" at="60"/></line>""",
        "date": """
<line h="8"><date weekday="Sat" day="6" month="Mar"/><text at="words">Brew</text></line>
<line h="8"><date weekday="Thu" day="18" month="Mar" weight="bold"/><text at="words">Test 1</text></line>""",
        "tick": """
<line h="8"><tick/><text at="23">open</text><tick at="60" state="done"/><text at="68">done</text>
  <tick at="105" state="away"/><text at="113">away</text>
  <tick at="150" state="check"/><text at="158">check</text></line>""",
        "blank": """
<line h="11"><text>Read the hydrometer</text><blank at="100" expected="1.043"/></line>
<line h="11"><text>Read the temperature</text><blank at="100" unit="°C" value="19"/></line>""",
        "rule": """
<line h="9"><text>Name</text><rule at="30" to="90"/>
  <text at="100">or</text><rule at="110" dots="yes"/></line>""",
        "code": """
<space h="9"/>
<line h="8"><text>Any phone reads it</text><code value="27A, from 7 April" size="18"/></line>
<space h="10"/>""",
        "picture": """
<line h="16"><picture file="logo.png" height="12" says="a boat"/><text at="60">your logo</text></line>""",
        "swatch": """
<line h="6"><swatch at="15" width="9" height="4" value="#ab4b00"/><text at="27">amber</text></line>""",
        "track": """
<track h="7" axis="yes">
  <bar kind="outline" start="0.1" end="0.2"/><bar start="0.2" end="0.6"/>
  <mark at="0.2"/><label at="0.2">21 Mar</label><label at="1" align="right">13 Jun</label>
</track>""",
        "bar": """
<track h="7" height="4"><bar end="0.15"/><bar kind="outline" start="0.2" end="0.35"/>
  <bar kind="hatch" start="0.4" end="0.55"/><bar kind="pale" start="0.6" end="0.75"/>
  <bar kind="frame" start="0.8" end="0.95"/></track>
<space h="3"/>""",
        "mark": """
<track h="8" height="4" axis="yes"><mark at="0.1"/><mark kind="drop" at="0.3"/><label at="0.3">drop</label>
  <mark kind="tick" at="0.5"/><mark kind="minor" at="0.7"/><mark kind="grid" at="0.9"/></track>""",
        "label": """
<track h="9" height="3"><bar end="0.6"/>
  <label at="0.3" align="center" side="above">above, in the middle</label>
  <label at="0.6" weight="bold">below</label>
</track>""",
        "cells": """
<cells columns="30 20 20 20" height="9">
  <cell><line h="6" weight="bold"><text>day</text></line></cell><cell/><cell tick="yes"/><cell hatch="yes"/>
</cells>""",
        "cell": """
<cells columns="3" height="11">
  <cell frame="yes"><line h="6"><text>next</text></line></cell>
  <cell tone="grey"><line h="6"><text>done</text></line></cell>
  <cell hatch="yes"><line h="6"><text>away</text></line></cell>
</cells>""",
        "ribbon": """
<cells columns="7" height="14"><cell/><cell/><cell/><cell/><cell/><cell/><cell/>
  <ribbon row="1" start="0.5" end="4"/><ribbon row="1" kind="outline" start="4" end="6"/></cells>""",
        "chart": """
<chart h="30" at="30" to="190">
  <curve points="0,0.9 0.2,0.85 0.5,0.3 1,0.15" weight="1"/><cross x="0.5" y="0.33"/>
  <note x="0" y="0.9" right="-2" align="right">1.042</note>
</chart>
<space h="3"/>""",
        "curve": """
<chart h="20" at="30" to="190">
  <curve points="0,1 0.5,0.6 1,0.5 1,0.2 0.5,0.3 0,0.7" fill="yes"/><curve points="0,0.1 1,0.1" dots="yes"/>
</chart>
<space h="3"/>""",
        "note": """
<chart h="16" at="30" to="190"><curve points="0,0.5 1,0.5" dots="yes"/>
  <note x="0.5" y="0.5" align="center" clear="yes">the gate</note></chart>
<space h="3"/>""",
        "patch": """
<chart h="16" at="30" to="190"><patch left="0.1" right="0.3"/>
  <patch left="0.5" right="0.8" top="0.6" kind="pale"/></chart>
<space h="3"/>""",
        "cross": """
<chart h="14" at="30" to="190"><curve points="0,0 1,0"/>
  <cross x="0.25" y="0.8"/><cross x="0.5" y="0.5"/></chart>
<space h="3"/>""",
        "sticker": """
<sticker name="bottle 7" margin="5">
  <line h="5" size="small"><text>Not before</text></line>
  <line h="9" size="quantity" weight="bold"><text shrink-to="14">Wed 7 April</text></line>
</sticker>""",
    }
)
"""By element."""
WHOLE = ("sheet", "head", "foot", "edge", "sticker")
"""Samples that are whole pages or labels, and cannot stand inside a page."""

START = """
Where it lies: A layout is a text file in `layouts/documents` beside a batch, or in the folder
`~/.config/sheetgen`. One with the name of ours is used instead of ours. `sheetgen layout copy fridge --to
.` gives you ours to change. |
Its head: Two lines of three dashes, and between them `layout:` its name; `title:` a word for lists;
`kind:` sheets or labels; `extends:` a layout whose blocks it replaces; `view:` the document whose names
it uses, when its own name is none of ours; `stock:` for labels. |
Its body: Elements in pointed brackets, one inside another, as this manual lists them. Every element is
closed: <line>...</line>, or <space/> when nothing stands inside. Write &lt; for a bracket that is meant
as a word. |
Names: {{ hero.date }} writes a name of the view. {% for row in rows %} ... {% endfor %} goes through a
list, {% if row.next %} ... {% else %} ... {% endif %} chooses. Dates, amounts and sentences come ready
for the paper, in its language. A name that is not in the view is an error, never an empty place. |
Only a part: With `extends: fridge` in the head, {% block gate %} ... {% endblock %} replaces that block
of the fridge sheet and leaves the rest; {{ super() }} inside it writes what stood there. The last pages
list all blocks and names. |
Try it: `sheetgen layout check` lays it out with a short, a usual and a long batch, in every language, on
A4 and Letter. What is wrong comes with the line and the column in your file, and with what to type. |
What it cannot do: Open a file other than a picture beside it, reach the network, call a program, repeat
without end. Sums of small numbers are there, and {{ list|length }}, first, last, round, default.
"""
"""The manual's first page: heads and what they say, parted by |."""
