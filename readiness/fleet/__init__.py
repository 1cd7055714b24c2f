"""Many farms at once: each one's book assessed by itself, on an engine that exists (Dask), into one
folder of Parquet; and the figures over all of them.

``sources`` says what farms a folder holds, ``task`` does one farm, ``run`` gives the farms to the
engine, ``place`` is the folder that is written, ``tables`` what stands in it, ``figures`` the query
over it. Only ``run`` knows Dask, and imports it when a run begins.
"""
