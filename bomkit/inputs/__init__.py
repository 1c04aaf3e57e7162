"""Files to checked frames: everything is read and checked before anything is planned."""

from bomkit.inputs.load import Inputs, load_inputs
from bomkit.inputs.template import write_template

__all__ = ["Inputs", "load_inputs", "write_template"]
