"""What was known of each unit, when: from records in order to a state as of any day."""

from scoring.timeline.known import Known, Status
from scoring.timeline.timeline import Timeline

__all__ = ["Known", "Status", "Timeline"]
