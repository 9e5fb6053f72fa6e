from halfpan.core.paint.names import fold_name, near_names, promises


def test_usual_variants_are_one_name():
    assert fold_name("Phthalocyanine Blue") == fold_name("Phthalo blue")
    assert fold_name("Krapp Lacquer") == fold_name("krapp lake")
    assert fold_name("Caput Mortüum, gray") == "caput mortuum grey"


def test_a_typing_error_is_a_maybe_and_another_name_is_not():
    names = ["Cerulean Blue", "Cobalt Blue", "Burnt Sienna", "Phthalocyanine Green"]
    assert [name for name, _ in near_names("Ceruelan Blue", names)] == ["Cerulean Blue"]
    assert [name for name, _ in near_names("thalo green", names)] == ["Phthalocyanine Green"]
    assert near_names("Raw Umber", names) == []


def test_the_longest_name_speaks_and_only_once():
    assert [p.named.name for p in promises("Cobalt Green Deep")] == ["cobalt green"]
    assert [p.named.name for p in promises("Perylene Maroon")] == ["perylene maroon"]
    assert promises("Sunny Meadow") == ()


def test_hue_and_genuine_are_words_of_the_name():
    (imitation,) = promises("Cadmium Red Hue")
    (real,) = promises("Rose Madder Genuine")
    assert imitation.hue
    assert not imitation.genuine
    assert real.genuine
    assert promises("Humbug hued cerulean")[0].hue is False
