# Reads a DXF file with ezdxf, audits it, and prints what lies in model space as JSON.
import json, sys
import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {"Version": doc.dxfversion, "Units": doc.header["$INSUNITS"], "Errors": [e.message for e in audit.errors] + [e.message for e in audit.fixes], "Layers": {}, "Types": {}, "Entities": []}
for l in doc.layers:
    out["Layers"][l.dxf.name] = {"Colour": l.dxf.color, "Width": l.dxf.lineweight, "Line": l.dxf.linetype}
for t in doc.linetypes:
    out["Types"][t.dxf.name.upper()] = [x.value for x in t.pattern_tags.tags if x.code == 49]
for e in doc.modelspace():
    x = {"Kind": e.dxftype(), "Layer": e.dxf.layer, "N": []}
    if x["Kind"] == "LINE": x["N"] = [*e.dxf.start, *e.dxf.end]
    if x["Kind"] in ("CIRCLE", "ARC"): x["N"] = [*e.dxf.center, e.dxf.radius]
    if x["Kind"] == "ARC": x["N"] += [e.dxf.start_angle, e.dxf.end_angle]
    if x["Kind"] == "LWPOLYLINE":
        x["N"] = [v for p in e.get_points("xyb") for v in p]
        x["Closed"] = e.closed
    if x["Kind"] == "TEXT":
        x["Words"], x["Turned"], x["Height"], x["Align"] = decode_dxf_unicode(e.dxf.text), e.dxf.rotation, e.dxf.height, e.get_align() if hasattr(e, "get_align") else str(e.get_align_enum().name)
        x["N"] = [*(e.dxf.align_point if e.dxf.hasattr("align_point") else e.dxf.insert)]
    out["Entities"].append(x)
json.dump(out, sys.stdout)
