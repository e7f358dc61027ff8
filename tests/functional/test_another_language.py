"""Another language: a made-up one in which every text is accented and longer, so that what stays English is seen."""

import io
import re
import tomllib
from importlib.resources import files

import pikepdf
import pypdf
import pytest

from foldproof.design.pack import pack
from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.words.catalogue import ENGLISH, language_of, missing, texts
from foldproof.words.numbers import Numbers, PluralRule
from foldproof.words.texts import named_values

PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
ACCENTED = "áƀćđéƒǵħíĵķĺḿńóṗqŕśţúṽŵẋýžÁɃĆĐÉƑǴĦÍĴĶĹḾŃÓṖQŔŚŢÚṼŴẊÝŽ"
OTHER_LETTERS = str.maketrans(PLAIN, ACCENTED)
LONGER = 0.3
KEPT = re.compile(r"(\{[^}]*\}|`[^`]*`|\w+\.txt)")  # named values, what is typed at a prompt, names of files
ENGLISH_WORD = re.compile(rf"(?<![\w{ACCENTED}])[A-Za-z]{{3,}}(?![\w{ACCENTED}])")
# The program's own name, ends of file names, and a unit that is written alike everywhere.
EVERYWHERE = {"foldproof", "txt", "proof", "gsm"}


def pseudo(text):
    """The text in other letters and three tenths longer; named values stay."""
    said = "".join(
        part if number % 2 else part.translate(OTHER_LETTERS) for number, part in enumerate(KEPT.split(text))
    )
    more = round(LONGER * len(text))
    return said + "ø" * more if more < 5 else said + " øøøøø" * (more // 6)


@pytest.fixture(scope="module")
def language():
    return language_of("xx", {key: pseudo(text) for key, text in texts().items()})


def example(name):
    return files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8")


def own_words(text):
    """What the maker named: the project, herself, cards, papers, parts."""
    data = tomllib.loads(text)
    layers = [layer for part in data["parts"].values() for layer in part.get("layers", [])]
    named = [data["name"], data.get("maker", ""), data["cardstock"]["name"], data.get("papers", {}).get("name", "")]
    named += [*data["parts"], *(layer.get("colour", "") for layer in layers)]
    return {word.lower() for word in re.findall(r"[A-Za-z]{3,}", " ".join(named))} | EVERYWHERE


@pytest.fixture(scope="module")
def packs(language):
    found = {}
    for name in ("tidepool", "shell-tray"):
        text = example(name)
        if name == "tidepool":
            text += '\n[papers]\nname = "tide"\n'
        made = pack(read_project(text), text, language=language)
        found[name] = (own_words(text), {file.path: file.data for file in made.files})
    return found


def english_in(text, own):
    return sorted({word for word in ENGLISH_WORD.findall(text) if word.lower() not in own})


def words_of_page(text):
    """What is read and what is read aloud of a web page."""
    shown = re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL)
    spoken = re.findall(r'aria-label="([^"]*)"', shown)
    return " ".join((*spoken, re.sub(r"<[^>]*>", " ", shown)))


def words_of_pdf(data):
    with pikepdf.open(io.BytesIO(data)) as pdf:
        alts = [str(each["/Alt"]) for each in pdf.objects if isinstance(each, pikepdf.Dictionary) and "/Alt" in each]
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    # The typesetter's accented letters come out doubled; that hides no English.
    return "\n".join((*pages, *alts))


@pytest.mark.parametrize("name", ["tidepool", "shell-tray"])
def test_no_english_is_left_on_what_is_printed(packs, name):
    own, made = packs[name]
    printed = [path for path in made if path.endswith(".pdf")]
    assert {"booklet.pdf", "score-plan.pdf", "templates.pdf", "table-card.pdf"} <= set(printed)
    for path in printed:
        assert english_in(words_of_pdf(made[path]), own) == [], path


@pytest.mark.parametrize("name", ["tidepool", "shell-tray"])
def test_no_english_is_left_on_page_post_steps_proof_and_measures(packs, name):
    own, made = packs[name]
    assert english_in(words_of_page(made["booklet.html"].decode()), own) == []
    for path in ("post.md", "steps.md", "proof.txt", "measures.txt", "shopping.csv"):
        text = re.sub(r"\]\([^)]*\)", "]", made[path].decode())  # where a picture lies
        assert english_in(text, own) == [], path


@pytest.mark.parametrize("name", ["tidepool", "shell-tray"])
def test_no_english_is_left_in_pictures_and_cut_files(packs, name):
    own, made = packs[name]
    drawn = [path for path in made if path.startswith(("pictures/", "cut/")) and path.endswith(".svg")]
    assert len(drawn) > 10
    for path in drawn:
        text = made[path].decode()
        told = re.findall(r"<desc[^>]*>([^<]*)", text) + re.findall(r'aria-label="([^"]*)"', text)
        assert english_in(" ".join(told), own) == [], path


def test_files_have_the_same_names_in_every_language(packs):
    text = example("shell-tray")
    assert {file.path for file in pack(read_project(text), text).files} == set(packs["shell-tray"][1])


def test_the_files_say_which_language_they_are_in(packs):
    _, made = packs["tidepool"]
    assert '<html lang="xx">' in made["booklet.html"].decode()
    for path in ("booklet.pdf", "score-plan.pdf"):
        with pikepdf.open(io.BytesIO(made[path])) as pdf:
            assert str(pdf.Root.Lang) == "xx", path


# --- The catalogue ------------------------------------------------------------------------------------------


def test_what_a_language_lacks_stays_english_and_is_reported():
    own = {"paper.score_plan": "Ritzplan"}
    language = language_of("de", own)
    assert language.paper.score_plan == "Ritzplan" and language.paper.template == ENGLISH.paper.template
    assert "paper.score_plan" not in missing(own) and "paper.template" in missing(own)
    assert len(missing(own)) == len(texts()) - 1
    assert missing(texts()) == ()


def test_every_text_has_one_key_and_goes_through_it():
    english = texts()
    assert len(english) > 1000
    assert texts(language_of("yy", {key: f"{text}!" for key, text in english.items()})) == {
        key: f"{text}!" for key, text in english.items()
    }
    assert not [key for key, text in english.items() if key != key.strip() or "{}" in text]


@pytest.mark.parametrize(
    ("key", "text", "reason"),
    [
        ("paper.no_such", "x", "is the key of no text"),
        ("paper.page_of", "side {page} af {alle}", "names values that the English text has not: alle"),
        ("paper.page_of", "side {page", "has a bracket too many"),
    ],
)
def test_wrong_texts_are_refused_with_their_key(key, text, reason):
    with pytest.raises(InputError) as caught:
        language_of("da", {key: text})
    assert [(problem.field, problem.reason) for problem in caught.value.problems] == [(key, reason)]


def test_a_language_has_its_own_forms_of_a_count():
    """Polish, by the plural rules of the Unicode Common Locale Data Repository: 1; 2-4 but 12-14; the rest."""
    few = PluralRule(form="few", low=2, high=4, rest_of=10, but_rest_of=100, but_low=12, but_high=14)
    numbers = Numbers(decimal=",", thousands=" ", plurals=(PluralRule(form="one", low=1, high=1), few))
    own = {
        "paper.score_lines.one": "Zagnij jedną linię",
        "paper.score_lines.few": "Zagnij {count} linie",
        "paper.score_lines.other": "Zagnij {count} linii",
    }
    polish = language_of("pl", own, numbers)
    said = [polish.counted(polish.paper.score_lines, count) for count in (1, 2, 5, 12, 22, 1000)]
    assert said == [
        "Zagnij jedną linię",
        "Zagnij 2 linie",
        "Zagnij 5 linii",
        "Zagnij 12 linii",
        "Zagnij 22 linie",
        "Zagnij 1 000 linii",
    ]
    assert ENGLISH.counted(ENGLISH.paper.score_lines, 1) == "Score one line"
    assert ENGLISH.counted(ENGLISH.paper.score_lines, 4) == "Score 4 lines"


def test_every_choice_that_stands_in_a_sentence_is_in_the_catalogue():
    from foldproof.constructions.catalogue import CONSTRUCTIONS
    from foldproof.outlines.catalogue import FORMULAS
    from foldproof.stock.board import NAMED_BOARDS

    terms = ENGLISH.told.terms
    assert {formula.name for formula in FORMULAS} <= set(terms)
    assert {board.name for board in NAMED_BOARDS} <= set(terms)
    assert {construction.summary for construction in CONSTRUCTIONS} <= set(terms)
    assert all(key == text for key, text in terms.items())


def test_named_values_of_a_text():
    assert named_values("{a} of {b:.1f}") == {"a", "b"}
