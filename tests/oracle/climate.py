"""Reference numbers for the climate tests, from pvlib; run by hand, the results are committed.

    python -m venv target/climate-venv && target/climate-venv/bin/pip install pvlib==0.16.1
    target/climate-venv/bin/python tests/oracle/climate.py

Writes crates/engine/tests/data/{ra_pvlib,greensboro_months,greensboro_hours}.csv.
Sun above the air: NREL SPA positions and Spencer's distance, integrated over each day in steps of 4 minutes.
Greensboro: TMY3 station 723170 (Wilcox and Marion 2008, NREL/TP-581-43156; US Government work), as shipped
with pvlib (BSD-3-Clause). A sunshine hour is one with direct radiation over 120 W/m2 (WMO No. 8).
"""

import pathlib

import numpy as np
import pandas as pd
import pvlib

OUT = pathlib.Path(__file__).parents[2] / "crates/engine/tests/data"
LATITUDES = [-66, -55, -34, -20, 0, 20, 36.1, 48, 60, 66]


def above_the_air():
    rows = []
    for latitude in LATITUDES:
        for month in range(1, 13):
            start = pd.Timestamp(2001, month, 15, tz="UTC")
            times = pd.date_range(start, periods=360, freq="4min") + pd.Timedelta("2min")
            sun = pvlib.solarposition.get_solarposition(times, latitude, 0.0)
            normal = pvlib.irradiance.get_extra_radiation(times, method="spencer")
            flat = normal * np.cos(np.radians(sun["zenith"])).clip(lower=0)
            light = (sun["zenith"] < 90).sum() * 4 / 60
            rows.append((latitude, start.day_of_year, flat.mean() * 0.0864, light))
    return pd.DataFrame(rows, columns=["latitude", "day", "ra_mj", "daylight_h"])


def greensboro():
    path = pathlib.Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    data, meta = pvlib.iotools.read_tmy3(path, coerce_year=2001, map_variables=True)
    # Values are for the hour that ends at the stamp; half an hour back is its middle.
    data.index = data.index - pd.Timedelta("30min")
    month = data.index.month
    days = data.groupby(data.index.date)
    month_of = pd.Series([d.month for d in days.groups], index=list(days.groups))
    by_day = lambda s: s.groupby(month_of).mean()
    table = pd.DataFrame(
        {
            "mean_c": data["temp_air"].groupby(month).mean(),
            "min_c": by_day(days["temp_air"].min()),
            "max_c": by_day(days["temp_air"].max()),
            "radiation_mj": by_day(days["ghi"].sum() * 0.0036),
            "sun_h": (data["dni"] > 120).groupby(month).sum(),
        }
    )
    hours = data["temp_air"].groupby([month, data.index.hour]).mean().unstack()
    return table, hours, meta


def main():
    print(pvlib.__version__)
    OUT.mkdir(exist_ok=True)
    note = "# written by tests/oracle/climate.py from pvlib 0.16.1; see there for sources\n"

    def write(name, frame, places, index):
        text = frame.round(places).to_csv(index=index, index_label="month", lineterminator="\n")
        (OUT / name).write_text(note + text)

    write("ra_pvlib.csv", above_the_air(), 3, False)
    table, hours, meta = greensboro()
    print(meta["latitude"], meta["longitude"], table["sun_h"].sum())
    write("greensboro_months.csv", table, 2, True)
    hours.columns = [f"h{h}" for h in hours.columns]
    write("greensboro_hours.csv", hours, 2, True)


if __name__ == "__main__":
    main()
