"""All sentences of the code for readers, one module for each subject.

Labels and help are in the declarations, prose is in ``content/``. Here are the sentences
about what was typed (problems and their hints), the reasons that calculators give, and the words
of the page's own scripts (``PAGE``). Callers import them from this package.
"""

from calculators.messages.apply import *
from calculators.messages.artwork import *
from calculators.messages.cut import *
from calculators.messages.files import *
from calculators.messages.finish import *
from calculators.messages.page import *
from calculators.messages.placement import *
from calculators.messages.rescue import *
from calculators.messages.rows import *
from calculators.messages.seal import *
from calculators.messages.service import *
from calculators.messages.size import *
from calculators.messages.trace import *
from calculators.messages.typed import *
from calculators.messages.underlay import *
from calculators.messages.vapour import *
from calculators.messages.ways import *
from calculators.messages.widths import *
from calculators.messages.wording import *
