"""Portuguese; one flat text file with semicolons, no number of a visit, work done on its day."""

from pathlib import Path

import pandas as pd
from kept_records import kept_records
from messy_fleet import Answer, MessyFleet, Source
from own_files import write_text
from own_writing import Own, comma, day_first, headings, word, written
from two_months import two_flat_months

FILE = "redutores_2026.csv"
DAY = day_first("-")
SIM_NAO = word(yes="Sim", no="Não")
OF_UNITS = (
    Own("unit_id", "Redutor"),
    Own("site", "Setor"),
    Own("line", "Linha"),
    Own("installed_on", "Instalado em", DAY),
    Own(
        "mounting",
        "Tipo de fixação",
        word(
            keyed_bore="Chaveta",
            tapered_bushing="Bucha cônica",
            shrink_disc="Disco de contração",
            shrink_disc_support_bushings="Disco de contração com buchas de apoio",
        ),
    ),
    Own("shaft_diameter_mm", "Diâmetro do eixo mm", comma),
    Own("joint_rated_torque_nm", "Torque nominal da fixação N·m", comma),
    Own("output_torque_nm", "Torque de saída N·m", comma),
    Own("motor_power_kw", "Potência kW", comma),
)
OF_WALKDOWNS = (
    Own("inspected_on", "Data da inspeção", DAY),
    Own(
        "kind",
        "Motivo",
        word(
            post_install="após instalação",
            after_start="após partida",
            periodic="periódica",
            after_rework="após retrabalho",
        ),
    ),
    Own("shaft_end", "Ponta do eixo", word(reaches="alcança", short="curta")),
    Own("screws_low", "Parafusos abaixo do torque", comma),
    Own("final_torque_nm", "Torque final N·m", comma),
    Own("isolators_free", "Coxins livres", comma),
    Own("isolator_squeeze_mm", "Aperto do coxim mm", comma),
    Own("metal_contact", "Contato metal com metal", SIM_NAO),
    Own("oil_level", "Nível do óleo", word(right="certo", high="alto", low="baixo")),
    Own("breather", "Respiro", word(open="aberto", plugged="entupido")),
    Own("seal_weep", "Vazamento no retentor", word(dry="seco", damp="úmido", dripping="pingando")),
)
OF_WORK = (
    Own("retorque_in_passes", "Reaperto em etapas", SIM_NAO),
    Own("back_off_isolators", "Coxins aliviados", SIM_NAO),
    Own("correct_oil_level", "Óleo corrigido", SIM_NAO),
    Own("open_breather", "Respiro aberto de novo", SIM_NAO),
    Own("renew_seal", "Retentor trocado", SIM_NAO),
)
AND_THEN = (
    Own("occurred_on", "Data da falha", DAY),
    Own(
        "mode",
        "Falha",
        word(
            low_speed_bearing="rolamento de saída",
            seal_leak="vazamento",
            joint_slip="escorregou",
            other="outra",
        ),
    ),
)
ANSWERS = (
    Answer("column", FILE, "Setor", "site", "a sector is our site"),
    Answer("column", FILE, "Coxins livres", "isolators_free", "rubber bushings that turn by hand"),
    Answer("column", FILE, "Aperto do coxim mm", "isolator_squeeze_mm", "rubber compressed"),
    Answer("column", FILE, "Coxins aliviados", "back_off_isolators", "rubber was backed off"),
    Answer("column", FILE, "Respiro aberto de novo", "open_breather", "breather was opened"),
    Answer("column", FILE, "Torque nominal da fixação N·m", "joint_rated_torque_nm", "rated"),
    Answer("word", FILE, "após retrabalho", "after_rework", "the visit after re-work"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Stock yard",
        35,
        start=10,
        named="RT.{:03d}".format,
        sites=("Pátio", "Carregamento"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS],
    )
    return two_flat_months(
        folder,
        tables,
        write,
        ANSWERS,
        of_units=OF_UNITS,
        of_walkdowns=OF_WALKDOWNS,
        of_work=OF_WORK,
        dated=False,
    )


def write(folder: Path, rows: pd.DataFrame, _: str) -> Source:
    columns = (*OF_UNITS, *OF_WALKDOWNS, *OF_WORK, *AND_THEN)
    path = folder / FILE
    write_text(path, [headings(columns), *written(rows, columns)], ";")
    return Source(path)
