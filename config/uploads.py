"""The guard in front of every upload."""

from __future__ import annotations

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.core.files.uploadhandler import FileUploadHandler


class SizeGuard(FileUploadHandler):
    """Refuses an upload by the size it announces, before any of it is read."""

    def handle_raw_input(
        self,
        _input_data: object,
        _headers: object,
        content_length: int,
        _boundary: object,
        _encoding: str | None = None,
    ) -> None:
        """Raise RequestDataTooBig when the upload is larger than UPLOAD_LIMIT_BYTES."""
        if content_length > settings.UPLOAD_LIMIT_BYTES:
            raise RequestDataTooBig(
                f"The upload has {content_length / 2**20:.1f} MiB; "
                f"at most {settings.UPLOAD_LIMIT_BYTES / 2**20:.0f} MiB are read."
            )

    def receive_data_chunk(self, raw_data: bytes, _start: int) -> bytes:
        """Hand the bytes on to the handler that keeps them."""
        return raw_data

    def file_complete(self, file_size: int) -> None:
        """Leave the file to the handler that kept it."""
