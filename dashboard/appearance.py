"""How the pages look: the tokens, the style sheet made from them, and the look of every chart."""

from typing import TYPE_CHECKING, cast

from dashboard.chart_locale import chart_locale
from scoring.drawing.look_tokens import (
    DARK,
    LIGHT,
    SERIES,
    SIZES,
    SPACE,
    TOUCH,
    Tokens,
    colour_variables,
)
from scoring.language.reading import AS_WRITTEN, Reading
from scoring.language.tell import told

if TYPE_CHECKING:
    import altair as alt

__all__ = ["SERIES", "SIZES", "SPACE", "TOUCH", "chart_look", "style_sheet", "tokens_of"]

NARROW = 640
"""A screen that is not wider is held in a hand. [px]"""

FONT = '"Source Sans", sans-serif'


def tokens_of(theme: str | None) -> Tokens:
    """Return the colours of ``light`` or ``dark``; of what is not known, light."""
    return DARK if theme == "dark" else LIGHT


CHOOSE_FILES = "Choose files of up to 20 MB each"
"""What the framework's field for files says in its own words, and in English alone."""


def style_sheet() -> str:
    """Return what the framework cannot be told by its settings, as an HTML element.

    Colours are variables by the name of their token (``var(--quiet)``), lengths ``var(--size-0)``
    to ``var(--size-4)``, so that what a page draws itself follows the theme.
    """
    sizes = "".join(f"--size-{at}:{size}px;" for at, size in enumerate(SIZES))
    return (
        f"<style>{colour_variables()}:root{{{sizes}--space:{SPACE}px;--touch:{TOUCH}px;"
        f'--choose-files:"{told(CHOOSE_FILES)}"}}'
        f"{_RULES}@media (max-width: {NARROW}px){{{_IN_A_HAND}}}@media print{{{_ON_PAPER}}}</style>"
    )


def chart_look(theme: str | None, reading: Reading = AS_WRITTEN) -> "alt.theme.ThemeConfig":
    """Return the look of every chart on a page, as a Vega-Lite configuration.

    Parameters
    ----------
    theme : str, optional
        ``light`` or ``dark``.
    reading : Reading
        How the person reads who looks at it.
    """
    tokens = tokens_of(theme)
    small, text = SIZES[0], SIZES[1]
    words = {"labelColor": tokens.quiet, "titleColor": tokens.quiet, "labelFont": FONT}
    letters = {"labelFontSize": small, "titleFontSize": small, "titleFontWeight": "normal"}
    look = {
        "config": {
            "background": tokens.ground,
            "font": FONT,
            "locale": chart_locale(reading),
            "text": {"color": tokens.ink, "fontSize": small},
            "title": {
                "color": tokens.ink,
                "fontSize": text,
                "fontWeight": 600,
                "anchor": "start",
                "subtitleColor": tokens.quiet,
                "subtitleFontSize": small,
            },
            "axis": {
                **words,
                **letters,
                "gridColor": tokens.raised,
                "domainColor": tokens.rule,
                "tickColor": tokens.rule,
                "labelSeparation": 3 * SPACE,
            },
            "axisY": {  # level and above, so that no title is cut however long it is
                "titleAngle": 0,
                "titleAlign": "left",
                "titleAnchor": "end",
                "titleBaseline": "bottom",
                "titleX": 0,
                "titleY": -2 * SPACE,
            },
            "legend": {**words, **letters, "labelColor": tokens.ink},
            "header": {**words, **letters},
            "view": {"stroke": None},
            "range": {
                "category": list(SERIES),
                "ordinal": [SERIES[0], SERIES[1], tokens.hold],  # as it grows worse
            },
            "rule": {"aria": False},  # the points beside it say the same
        }
    }
    return cast("alt.theme.ThemeConfig", look)


_RULES = """
.first>.all{display:none}
body{font-variant-numeric:tabular-nums}
[data-testid=stCaptionContainer],[data-testid=stCaptionContainer] *,
[data-testid=stMetricLabel],[data-testid=stWidgetLabel] small{color:var(--quiet);opacity:1}
[data-testid=stMainBlockContainer] p{max-width:75ch}
[data-testid=stMetric]{border:0;padding:0}
[data-testid=stToolbarActions],[data-testid=stStatusWidget] label{display:none}
.v-hold{color:var(--hold);font-weight:600}.v-correct{color:var(--correct)}
.v-watch{color:var(--watch)}
.st-key-band{justify-content:space-between}
.st-key-band [data-testid=stElementContainer]:has(.reading){margin-left:auto}
.st-key-pages_in_a_row [data-testid=stHorizontalBlock]{column-gap:0;row-gap:0;
justify-content:space-between}
.st-key-pages_in_a_row{border-bottom:1px solid var(--rule);padding-bottom:calc(2*var(--space))}
.st-key-pages_in_a_list{display:none}
:is(.st-key-pages_in_a_row,.st-key-pages_in_a_list) [data-testid=stPageLink] p{color:var(--ink)}
.st-key-earlier_day{background:var(--raised);border-left:calc(2*var(--space)) solid var(--ink);
padding:calc(2*var(--space)) calc(3*var(--space))}
.unit-mark{display:inline-flex;align-items:center;height:20px;margin-left:calc(2*var(--space));
vertical-align:middle;white-space:nowrap}
.unit-mark i{display:block;box-sizing:border-box;border:2px solid var(--ink)}
.unit-mark .joint{width:12px;height:12px;border-radius:50%}
.unit-mark.tapered_bushing .joint{border-radius:50% 50% 50% 0}
.unit-mark.shrink_disc .joint{border-radius:2px}
.unit-mark.shrink_disc_support_bushings .joint{border-radius:2px;width:16px}
.unit-mark .housing{width:20px;height:16px;border-radius:4px;margin-left:-1px}
.unit-mark .arm{width:10px;height:10px;border-radius:50%;margin-left:14px;position:relative}
.unit-mark .arm::before{content:"";position:absolute;right:100%;top:50%;width:14px;
border-top:1px solid var(--ink)}
.unit-mark .found{background:var(--ink)}.unit-mark .unseen{border-style:dotted}
.unit-mark .good{border-width:1px;border-color:var(--rule)}
.reading{color:var(--quiet);font-size:var(--size-0);white-space:nowrap;line-height:var(--touch)}
.found a{display:inline-block;padding:var(--space) calc(2*var(--space));color:var(--ink)}
.doors{display:grid;grid-template-columns:repeat(auto-fit,minmax(260px,1fr));
gap:calc(3*var(--space));margin:calc(2*var(--space)) 0}
.door{display:block;padding:calc(4*var(--space));min-height:var(--touch);color:var(--ink);
background:var(--raised);border-left:calc(2*var(--space)) solid var(--action);text-decoration:none}
.door b{display:block;font-size:var(--size-2);font-weight:600;text-decoration:underline}
.door span{color:var(--quiet)}
.verdicts{border-collapse:collapse;max-width:48rem;width:100%}
.verdicts th,.verdicts td{text-align:left;vertical-align:baseline;border:0;
padding:calc(2*var(--space)) calc(4*var(--space)) calc(2*var(--space)) 0;
border-bottom:1px solid var(--rule)}
.verdicts th{white-space:nowrap}
.verdicts a{color:var(--ink);display:inline-block}
.verdicts .number{text-align:right;white-space:nowrap;padding-right:0}
.groups,.framed,.units,.places,.jobs,.listed{border-collapse:collapse;width:100%}
.units,.places,.listed{font-size:var(--size-1)}
:is(.groups,.framed,.units,.places,.jobs,.listed) :is(th,td){border:0;
border-bottom:1px solid var(--rule);
padding:calc(2*var(--space)) calc(3*var(--space)) calc(2*var(--space)) 0;text-align:left;
vertical-align:top;font-weight:400}
:is(.groups,.framed,.units,.places,.jobs,.listed) thead th{font-size:var(--size-0);
color:var(--quiet)}
:is(.units,.places,.jobs) thead th{vertical-align:bottom}
:is(.units,.places,.jobs,.listed) .number{text-align:right;white-space:nowrap}
:is(.units,.places,.jobs,.listed) thead .number{white-space:normal}
:is(.units,.jobs,.listed) .where{display:block;color:var(--quiet);font-size:var(--size-0)}
:is(.groups,.framed) :is(th,td){vertical-align:baseline}
:is(.groups,.framed) a{color:var(--ink);text-decoration:underline;display:inline-block}
:is(.groups,.framed) .of{display:none}
.units thead th[aria-sort]{color:var(--ink);font-weight:600}
.units tbody tr{position:relative}
.units tbody tr:hover,.units tbody tr:focus-within{background:var(--raised)}
.units tbody th a{color:var(--ink);font-weight:600;white-space:nowrap}
.units tbody th a::after{content:"";position:absolute;inset:0}
.units tbody th{min-width:9rem}.visits th.unit{min-width:12rem}
.framed{font-size:var(--size-1)}.framed .number{text-align:right;white-space:nowrap}
.framed thead .number{white-space:normal}.framed :is(time,a){white-space:nowrap}
[data-testid=stAlertContainer]{background:var(--raised);color:var(--ink);border-radius:0;
border-left:calc(2*var(--space)) solid var(--rule)}
[data-testid=stAlertContentWarning],[data-testid=stAlertContentInfo],
[data-testid=stAlertContentSuccess]{color:var(--ink)}
[data-testid=stAlertContainer]:has([data-testid=stAlertContentError]){border-color:var(--hold)}
[data-testid=stAlertContentError]{color:var(--hold)}
[data-testid=stExpander] details{border:0;border-bottom:1px solid var(--rule);border-radius:0}
[data-testid=stExpander] summary{padding-left:0;background:none;border-radius:0}
[data-testid=stExpander] summary:hover p{text-decoration:underline}
[data-testid=stExpanderDetails]{padding-left:0;padding-right:0;border:0}
[data-testid=stLayoutWrapper]:has(>[data-testid=stExpander])
+[data-testid=stLayoutWrapper]:has(>[data-testid=stExpander]){margin-top:-1rem}
[data-testid=stForm]{border:0;padding:0}
[data-testid=stFileUploaderDropzone] button p{max-width:none;white-space:nowrap}
[data-testid=stFileUploaderDropzone] button p,
[data-testid=stFileUploaderDropzoneInstructions] span{font-size:0}
[data-testid=stFileUploaderDropzone] button p::after{content:var(--choose-files);
font-size:var(--size-1)}
.few{display:-webkit-box;-webkit-line-clamp:3;-webkit-box-orient:vertical;overflow:hidden}
.units .verdict{white-space:nowrap}.units .rank{color:var(--quiet)}
.units .v-hold{color:var(--hold);font-weight:600}
.units .what{display:none}.units .value{display:inline-block;min-width:3.2em}
.bar,.axis{display:inline-block;position:relative;width:96px;height:16px;vertical-align:middle;
border-left:1px solid var(--rule);border-right:1px solid var(--rule);
background:repeating-linear-gradient(90deg,transparent 0 23px,var(--rule) 23px 24px);
background-color:transparent;print-color-adjust:exact}
.bar .line{position:absolute;top:7px;border-top:2px solid var(--ink);height:0}
.bar .line.cut{border-top-style:dotted}
.bar .mark{position:absolute;top:2px;height:12px;margin-left:-2px;border-left:4px solid var(--ink)}
.axis{display:block;margin-left:auto;margin-right:calc(3.2em + 4px);background:none;border:0}
.axis i{position:absolute;transform:translateX(-50%);font-style:normal;white-space:nowrap}
.axis i:nth-child(1){left:25%}.axis i:nth-child(2){left:50%}
.axis i:nth-child(3){left:75%;transform:translateX(-30%)}
.holds{padding-left:calc(4*var(--space));margin:0}.holds li{margin-bottom:calc(2*var(--space))}
.holds a{color:var(--ink);font-weight:600}.holds .then{display:block;color:var(--quiet)}
.jobs .rank{color:var(--quiet)}.jobs .of{display:none}.jobs .act{white-space:nowrap}
.jobs a{color:var(--ink);display:inline-block}.jobs tbody th a{font-weight:600}
.jobs tbody th{min-width:11rem}
.st-key-held [data-testid=stExpander] summary{padding-left:calc(3*var(--space));
background:var(--hold);color:var(--ground)}
.st-key-held summary *{color:var(--ground)}
.st-key-unit_sheet{display:grid;grid-template-columns:5fr 7fr;column-gap:calc(8*var(--space));
row-gap:calc(4*var(--space));align-items:start;grid-template-rows:auto 1fr}
.st-key-unit_sheet>*{min-width:0;width:100%}
.st-key-unit_sheet>:nth-child(2){grid-column:2;grid-row:1/span 2}
.must-not-run{background:var(--hold);color:var(--ground);
padding:calc(4*var(--space));print-color-adjust:exact}
.must-not-run h2,.may-run h2{font-size:var(--size-3);font-weight:600;padding:0;margin:0}
.must-not-run h2{color:var(--ground)}
.must-not-run p,.may-run p,.first p{margin:calc(2*var(--space)) 0 0}
.chances{border-collapse:collapse;width:100%;font-size:var(--size-1)}
.chances caption{text-align:left;color:var(--quiet);font-size:var(--size-0);caption-side:top}
.chances th,.chances td{text-align:left;font-weight:400;border:0;
padding:calc(2*var(--space)) calc(3*var(--space)) calc(2*var(--space)) 0}
.chances tbody tr{border-bottom:1px solid var(--rule)}
.chances td:nth-child(2){width:50%}
.chances .number{text-align:right;padding-right:0;white-space:nowrap}
.chances .bar{width:100%;background:repeating-linear-gradient(90deg,
transparent 0 calc(25% - 1px),var(--rule) calc(25% - 1px) 25%)}
.chances .axis{width:100%;color:var(--quiet);font-size:var(--size-0)}
.loss{margin:calc(3*var(--space)) 0 0}
.listed .asks-for,.listed .seen-on{white-space:nowrap}
.listed a{color:var(--ink);font-weight:600;white-space:nowrap;display:inline-block}
.listed .what{display:none}
.drawn{container-type:inline-size}
.drawn .wider{display:none;color:var(--quiet);font-size:var(--size-0);margin:0}
@container (max-width: 559px){.drawn .wider{display:block}}
.shifted{overflow-x:auto}
input::placeholder,textarea::placeholder{color:var(--quiet)!important;opacity:1}
"""

_IN_A_HAND = """
.first>.all{display:flex;align-items:center;gap:calc(2*var(--space));min-height:var(--touch)}
.all input{width:20px;height:20px;accent-color:var(--action)}
@media screen{.first:not(:has(.all :checked)) tbody tr:nth-child(n+6){display:none}}
.st-key-band .reading{display:none}
.st-key-band [data-testid=stElementContainer]:has(.reading){display:none}
.st-key-pages_in_a_row{display:none}.st-key-pages_in_a_list{display:block}
.st-key-day{flex-wrap:nowrap}.st-key-day>:first-child{flex:1 1 0;min-width:0}
[data-testid=stMainBlockContainer]{padding-left:calc(3*var(--space));padding-right:calc(3*var(--space))}
[data-testid=stMainBlockContainer] button,[data-testid=stMainBlockContainer] summary,
[data-testid=stMainBlockContainer] .react-aria-ComboBox>[role=group],
[data-testid=stTextInputRootElement],[data-testid=stNumberInputContainer],
[data-testid=stRadio] label,.verdicts a,.found a,[data-testid=stPageLink] a{min-height:var(--touch)}
:is(.groups,.framed) thead{display:none}
:is(.groups,.framed) :is(tr,th,td){display:block;border:0;padding:0}
:is(.groups,.framed) tr{border-bottom:1px solid var(--rule);padding:calc(2*var(--space)) 0}
:is(.groups,.framed) .of{display:inline;color:var(--quiet)}
:is(.groups,.framed) a{min-height:var(--touch);line-height:var(--touch)}
:is(.units,.listed,.jobs) thead{position:absolute;clip-path:inset(50%)}
.units,.units tbody{display:block}
.units tbody tr{display:grid;grid-template-columns:auto auto 1fr auto;
column-gap:calc(2*var(--space));align-items:baseline;padding:calc(3*var(--space)) 0;
min-height:72px;border-bottom:1px solid var(--rule)}
.units tbody td,.units tbody th{border:0;padding:0}
.units .where,.units .bar,.units .number{display:none}
.units .number.sorted{display:block;grid-row:1;grid-column:4}
.units .what{display:inline;color:var(--quiet);font-size:var(--size-0)}
.units .value{min-width:0}
.units .why,.units .then{grid-column:1/-1}
.units tbody th{min-width:0}
.few{-webkit-line-clamp:1}
.units .then{color:var(--quiet)}
.places{font-size:var(--size-0)}
.st-key-unit_sheet{grid-template-columns:minmax(0,1fr)}
.st-key-unit_sheet>:nth-child(2){grid-column:1;grid-row:auto}
.chances td:nth-child(2){width:34%}
.listed,.listed tbody,.listed tr,.listed td{display:block}
.listed tr{border-bottom:1px solid var(--rule);padding:calc(2*var(--space)) 0}
.listed td{border:0;padding:0}
.listed .nr,.listed .asks-for,.listed .seen-on{display:inline-block;
margin-right:calc(2*var(--space))}
.listed tbody th{display:block;border:0;padding:0}
.visits tr{display:grid;grid-template-columns:auto 1fr auto auto;column-gap:calc(3*var(--space))}
.visits .finds,.visits .finds-hold{display:none}
.visits .why,.visits .begin{grid-column:1/-1}
.listed a{min-height:var(--touch);line-height:var(--touch)}
.listed .number,.visits .no{line-height:var(--touch)}
:is(.groups,.framed) tbody td{display:inline;white-space:normal}
.framed tbody td.number{white-space:nowrap}.framed td .of,.framed td::before{white-space:normal}
:is(.groups,.framed) td:not(.blank,.as-before)~td:not(.blank,.as-before)::before{content:" · "}
.framed .blank{display:none}
.listed .what{display:inline;color:var(--quiet);font-size:var(--size-0)}
.listed .why-it-matters{color:var(--quiet)}
.jobs,.jobs tbody{display:block}
.jobs tr{display:block;border-bottom:1px solid var(--rule);padding:calc(2*var(--space)) 0}
.jobs tbody td,.jobs tbody th{display:block;border:0;padding:0}
.jobs .few{-webkit-line-clamp:3}
.jobs .rank{display:none}.jobs .number{display:inline-block;margin-right:calc(3*var(--space))}
.jobs .number .where{display:none}.jobs .of{display:inline;color:var(--quiet)}
.jobs a{min-height:var(--touch);line-height:var(--touch)}
[data-testid=stRadio] label{align-items:center}
.st-key-band>:has([data-testid=stTextInput]){flex:1 1 100%}
:is(.st-key-band,.st-key-band>*) [data-testid=stTextInput]{width:100%}
[data-testid=stCheckbox] label{min-height:var(--touch);align-items:center}
.holds a{display:inline-block;line-height:var(--touch)}
.groups .as-before{display:none}
"""

_ON_PAPER = """
[data-testid=stHeader],.st-key-pages_in_a_row,button{display:none}.few{display:block}
"""
